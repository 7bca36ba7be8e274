import type { Catalogue } from './catalogue.ts';
import { esFiles } from './esFiles.ts';
import { esPrint } from './esPrint.ts';

export const es: Catalogue = {
  frame: {
    subject: 'Su diseño {job}: {count, plural, =0 {no hace falta nada} one {una pregunta} other {# preguntas}}',
    greeting: 'Buenos días{customer, select, none {} other {, {customer}}}:',
    opening:
      'Gracias por su diseño. Antes de hacer los fotolitos hemos mirado {files, plural, one {su archivo} other {sus # archivos}} ({size}).',
    ready: 'Está listo para hacer los fotolitos. No hace falta nada de su parte.',
    nothing: 'Por ahora no hace falta nada de su parte; lo demás lo resolvemos aquí.',
    notChecked: 'Todavía no se ha comprobado hasta el final. Le avisaremos; por ahora no hace falta nada.',
    change: 'Por favor, cambie',
    tell: 'Por favor, díganos',
    places:
      '{count, plural, one {Está a {left} de la izquierda y a {top} de arriba en {file}.} other {Son # lugares; el peor está a {left} de la izquierda y a {top} de arriba en {file}.}}',
    page: '{file}, página {page}',
    picture:
      'Parte del diseño, de {width} de ancho; el anillo marca el lugar: a {left} de la izquierda y a {top} de arriba.',
    more: 'Y {count, plural, one {una pregunta más} other {# preguntas más}} como estas; el informe las tiene todas.',
    ours: '{count, plural, one {Un punto más es asunto nuestro} other {# puntos más son asunto nuestro}}; para eso no hace falta nada de su parte.',
    answer: 'Responda por número: un archivo nuevo, «sí» a nuestra oferta, o «impriman como está».',
    unchanged: 'Si nada cambia, se imprime como se describe arriba.',
    by: 'Por favor, avísenos a más tardar el {date}, para que el trabajo conserve su turno.',
    noDate: 'Hacemos los fotolitos cuando tengamos su respuesta.',
    thanks: 'Muchas gracias.',
    sizes: 'de distintos tamaños',
    noSize: 'de tamaño desconocido',
    list: '{first} y {last}',
    others: '{count} más',
  },
  offers: {
    change: '¿O podemos cambiarlo nosotros?',
    add: '¿O podemos hacerlo nosotros?',
    asIs: '¿O podemos imprimirlo como está?',
    leaveOut: '¿O podemos quitarlo?',
    merge: '¿O podemos elegir nosotros?',
  },
  general: {
    'not-verified': {
      defect: 'Parte de su archivo no se pudo dibujar con certeza{names, select, none {} other { ({names})}}.',
      effect: 'Lo que se imprima ahí puede ser distinto de lo que usted ve.',
      request: 'Por favor, díganos si está como lo quiere, o envíe el archivo original.',
      offer: 'asIs',
    },
    'not-measured': {
      defect: 'Parte de {inks} no se pudo medir.',
      effect: 'Todavía no se puede decir cómo se imprime.',
      request: 'Por favor, envíe el original o un archivo vectorial.',
      offer: 'asIs',
    },
    'in-doubt': {
      defect: 'Parte de {inks} no se pudo medir con bastante exactitud.',
      effect: 'Puede imprimirse distinto de lo que usted ve.',
      request: 'Por favor, envíe el original o un archivo vectorial.',
      offer: 'asIs',
    },
    'open-join': {
      defect: 'No es seguro cómo van juntos sus archivos.',
      effect: 'Un fotolito podría hacerse para otra tinta, o dos veces.',
      request: 'Por favor, díganos qué archivo es para qué tinta.',
      offer: 'merge',
    },
  },
  findings: { ...esFiles, ...esPrint },
};
