import type { FindingsLike } from './catalogue.ts';
import type { enPrint } from './enPrint.ts';

export const esPrint: FindingsLike<typeof enPrint> = {
  'thin-line': {
    effect: 'Líneas tan finas caen entre los hilos de la malla y se rompen.',
    settled: 'Las líneas en {inks} ya son bastante gruesas.',
    offer: 'change',
    codes: {
      'breaks-up': [
        '{count, plural, one {Una línea en {inks} mide {value} de ancho} other {# líneas en {inks} son demasiado finas, la más fina de {value}}}.',
        'Por favor, {count, plural, one {engrósela} other {engróselas}} a {limit} como mínimo.',
      ],
      'close-to-limit': [
        'Una línea en {inks} mide unos {value}, al borde de lo que se imprime.',
        'Por favor, engrósela a {safe} para más seguridad, o envíe el archivo vectorial.',
      ],
      'tapers-away': [
        'Las puntas en {inks} se afinan y acabarán hasta {value} antes.',
        'Si deben ser tan largas, por favor hágalas más romas.',
      ],
    },
  },
  'thin-gap': {
    effect: 'Huecos tan estrechos se llenan de tinta y se cierran.',
    settled: 'Los huecos en {inks} ya son bastante anchos.',
    offer: 'change',
    codes: {
      'fills-in': [
        '{count, plural, one {Un hueco en {inks} mide {value} de ancho} other {# huecos en {inks} son demasiado estrechos, el más estrecho de {value}}}.',
        'Por favor, {count, plural, one {ábralo} other {ábralos}} a {limit} como mínimo.',
      ],
      'close-to-limit': [
        'Un hueco en {inks} mide unos {value}, al borde de lo que queda abierto.',
        'Por favor, ábralo a {safe} para más seguridad, o envíe el archivo vectorial.',
      ],
      'closes-to-a-point': [
        'Puntas estrechas de camiseta libre en {inks} se cierran en hasta {value}.',
        'Si deben quedar abiertas, por favor córtelas romas.',
      ],
    },
  },
  'small-dot': {
    effect: 'Puntos tan pequeños se agarran poco a la malla y se imprimen a parches o nada.',
    settled: 'Los puntos en {inks} ya son bastante grandes.',
    offer: 'change',
    codes: {
      'washes-out': [
        '{count, plural, one {Un punto en {inks} mide {value}} other {# puntos en {inks} son demasiado pequeños, el menor de {value}}}.',
        'Por favor, {count, plural, one {agrándelo} other {agrándelos}} a {limit} como mínimo.',
      ],
      'scattered-too-fine': [
        'Los tonos en {inks} son puntos dispersos de {value}.',
        'Por favor, expórtelos con puntos de {limit} como mínimo.',
      ],
      'close-to-limit': [
        'Un punto en {inks} mide unos {value}, al borde de lo que se imprime.',
        'Por favor, agrándelo a {safe} para más seguridad, o envíe el archivo vectorial.',
      ],
    },
  },
  'lost-island': {
    effect: 'Agujeros tan pequeños se cierran con tinta.',
    settled: 'Los agujeros pequeños en {inks} ya quedarán abiertos.',
    offer: 'change',
    codes: {
      'washes-off': [
        '{count, plural, one {Un agujero en {inks} mide {value}} other {# agujeros en {inks} son demasiado pequeños, el menor de {value}}}.',
        'Por favor, {count, plural, one {ábralo} other {ábralos}} a {limit} como mínimo, o {count, plural, one {rellénelo} other {rellénelos}}.',
      ],
      'close-to-limit': [
        'Un agujero en {inks} mide unos {value}, al borde de lo que queda abierto.',
        'Por favor, ábralo a {safe} para más seguridad, o envíe el archivo vectorial.',
      ],
    },
  },
  'small-type': {
    effect: 'Una letra tan pequeña no se lee sobre tela.',
    settled: 'Los textos pequeños en {inks} están resueltos.',
    offer: 'change',
    codes: {
      'too-small-to-read': [
        '{count, plural, one {Un texto en {inks} tiene {value}} other {# textos en {inks} son demasiado pequeños, el menor de {value}}}.',
        'Por favor, {count, plural, one {agrándelo} other {agrándelos}} a {limit}, o {count, plural, one {quítelo} other {quítelos}}.',
      ],
    },
  },
  'coarse-mesh-for-ruling': {
    effect: 'Una trama tan fina se imprime granulada con esta malla.',
    settled: 'La trama en {inks} ya encaja con la prenda.',
    offer: 'change',
    codes: {
      'too-coarse': [
        'La trama en {inks} es demasiado fina para esta prenda.',
        'Por favor, expórtela con menos líneas por pulgada.',
      ],
      coarse: [
        'La trama en {inks} es fina para esta prenda.',
        'Por favor, expórtela con menos líneas por pulgada para más seguridad.',
      ],
    },
  },
  'tone-out-of-range': {
    effect: 'Los tonos más claros se pierden y los más oscuros se llenan.',
    settled: 'Los tonos en {inks} ya se mantendrán.',
    offer: 'change',
    codes: {
      'lights-lost': [
        '{value} de la trama en {inks} es demasiado claro para imprimirse.',
        'Por favor, oscurezca estos tonos o quítelos.',
      ],
      'darks-filled': [
        '{value} de la trama en {inks} es tan oscuro que se llena.',
        'Por favor, aclare estos tonos o hágalos plenos.',
      ],
      'close-to-limit': [
        'Parte de la trama en {inks} está al borde de lo que se imprime.',
        'Por favor, díganos si puede perderse o llenarse.',
      ],
    },
  },
  'mesh-moire': {
    effect: 'Una trama que choca con los hilos muestra, según la estimación, bandas.',
    settled: 'La trama en {inks} ya no debería mostrar bandas.',
    offer: 'change',
    codes: {
      'seen-plainly': ['La trama en {inks} mostrará bandas.', 'Por favor, expórtela con otra lineatura u otro ángulo.'],
      'may-be-seen': [
        'La trama en {inks} puede mostrar bandas.',
        'Para más seguridad, por favor expórtela con otra lineatura u otro ángulo.',
      ],
    },
  },
  'angle-clash': {
    effect: 'Tramas de ángulos parecidos muestran un dibujo donde se imprimen una sobre otra.',
    settled: 'Los ángulos de las tramas ya encajan.',
    offer: 'change',
    codes: {
      clash: [
        'Las tramas en {inks} están a solo {value} una de otra.',
        'Por favor, expórtelas con ángulos a {limit} de distancia.',
      ],
      'close-to-limit': [
        'Las tramas en {inks} están a unos {value} una de otra, al borde.',
        'Por favor, expórtelas con ángulos a {limit} de distancia para más seguridad.',
      ],
    },
  },
  'soft-dot': {
    effect: 'Puntos suaves y grises no dan una pantalla limpia e imprimen desigual.',
    settled: 'Los puntos en {inks} ya son nítidos.',
    offer: 'change',
    codes: {
      soft: [
        '{value} de los puntos en {inks} tiene bordes suaves y grises.',
        'Por favor, envíe la trama en blanco y negro puros a la resolución del fotolito.',
      ],
    },
  },
  'missing-registration-mark': {
    effect: 'Sin marcas comunes los fotolitos se encajan a ojo, y las tintas quizá no se encuentren.',
    settled: 'Las marcas de registro ya están.',
    offer: 'add',
    codes: {
      'lacks-marks': [
        'Al fotolito de {inks} le {count, plural, one {falta una marca} other {faltan # marcas}} que los otros tienen.',
        'Por favor, ponga las mismas marcas de registro en cada fotolito.',
      ],
      'no-marks': [
        'Ningún fotolito tiene marcas de registro.',
        'Por favor, ponga {most, plural, one {la misma marca} other {las mismas # marcas}} en cada fotolito.',
      ],
      'unmatched-marks': [
        'Los fotolitos tienen marcas de registro, pero no en el mismo lugar.',
        'Por favor, expórtelos todos desde una página con un juego de marcas.',
      ],
      'few-marks': [
        'Los fotolitos tienen {number, plural, one {# marca de registro} other {# marcas de registro}} y necesitan {most}.',
        'Por favor, añada las que faltan en cada fotolito.',
      ],
    },
  },
  'marks-disagree': {
    effect: 'Encajadas por estas marcas, las tintas no se encuentran.',
    settled: 'Las marcas de registro ya coinciden.',
    offer: 'asIs',
    codes: {
      'marks-apart': [
        'Las marcas del fotolito de {inks} están a {value} de las de los otros.',
        'Por favor, saque todos los fotolitos de una vez desde una página.',
      ],
      'mark-moved': [
        'Una marca del fotolito de {inks} se movió.',
        'Por favor, vuelva a ponerla y saque otra vez el fotolito.',
      ],
      'art-off-marks': [
        'En el fotolito de {inks} el dibujo está a {value} de donde dicen sus marcas.',
        'Por favor, díganos si el dibujo se movió después de poner las marcas.',
      ],
      'close-to-limit': [
        'Las marcas del fotolito de {inks} quizá estén a {value} de las otras.',
        'Por favor, díganos si todos los fotolitos se sacaron de una vez.',
      ],
    },
  },
  'misaligned-film': {
    effect: 'Las tintas de fotolitos que no coinciden no se encuentran.',
    settled: 'Los fotolitos ya coinciden.',
    offer: 'change',
    codes: {
      shifted: [
        'El fotolito de {inks} está desplazado {value}.',
        'Por favor, saque todos los fotolitos desde una página sin mover ninguno.',
      ],
      turned: [
        'El fotolito de {inks} está girado, hasta {value}.',
        'Por favor, saque todos los fotolitos de una vez en la misma máquina.',
      ],
      'close-to-limit': [
        'El fotolito de {inks} quizá esté desplazado {value}.',
        'Por favor, díganos si todos los fotolitos se sacaron de una vez.',
      ],
    },
  },
  'scaled-film': {
    effect: 'Un fotolito a otra escala no se puede encajar con los demás.',
    settled: 'Los fotolitos tienen ya la misma escala.',
    offer: 'asIs',
    codes: {
      stretched: [
        'El fotolito de {inks} tiene la escala desviada en {value}.',
        'Por favor, saque todos los fotolitos en una sesión, en la misma máquina, al 100 %.',
      ],
      'close-to-limit': [
        'El fotolito de {inks} quizá tenga la escala desviada en {value}.',
        'Por favor, díganos si todos los fotolitos se sacaron en una sesión, al 100 %.',
      ],
    },
  },
  'short-trap': {
    effect: 'El menor desplazamiento en la máquina muestra una línea fina de camiseta entre las tintas.',
    settled: '{ink} y {other} ya se solapan bastante.',
    offer: 'change',
    codes: {
      'overlap-too-small': [
        'Donde {ink} toca {other} se solapan {value}.',
        'Por favor, ensánchelo a {limit}; los bordes se mueven menos que un pelo.',
      ],
      'close-to-limit': [
        'Donde {ink} toca {other} se solapan unos {value}.',
        'Por favor, ensánchelo a {limit} para más seguridad.',
      ],
    },
  },
  'open-gap': {
    effect: 'Entre las tintas se ve la camiseta.',
    settled: 'El hueco entre {ink} y {other} está resuelto.',
    offer: 'change',
    codes: {
      'shirt-shows-through': [
        'Entre {ink} y {other} hay un hueco de {value}.',
        'Por favor, ciérrelo con un pequeño solape.',
      ],
      'wide-gap': [
        'Entre {ink} y {other} hay un hueco de {value}.',
        'Por favor, díganos si es una línea de camiseta libre intencionada.',
      ],
      'close-to-limit': [
        'Entre {ink} y {other} quizá haya un hueco muy fino.',
        'Por favor, ciérrelo con un pequeño solape, o envíe el archivo vectorial.',
      ],
    },
  },
  'butt-joint': {
    effect: 'El menor desplazamiento en la máquina muestra la camiseta entre ellas.',
    settled: '{ink} y {other} ya se solapan.',
    offer: 'add',
    codes: {
      'edges-butt': ['{ink} y {other} se tocan borde con borde.', 'Por favor, añada un pequeño solape.'],
      'edges-may-butt': ['{ink} y {other} quizá se toquen borde con borde.', 'Por favor, añada un pequeño solape.'],
    },
  },
  'underbase-peek': {
    effect: 'La base se ve como un borde alrededor de sus colores.',
    settled: 'El {ink} queda ya oculto bajo sus colores.',
    offer: 'change',
    codes: {
      'base-peeks-out': [
        '{ink} bajo sus colores asomaría {value}.',
        'Por favor, recójalo {limit}; las partes muy finas quedan entonces sobre la camiseta y se ven más oscuras.',
      ],
      'choke-too-small': [
        '{ink} bajo sus colores está solo {value} dentro de su borde.',
        'Por favor, recójalo a {limit}.',
      ],
      'close-to-limit': [
        '{ink} bajo sus colores está unos {value} dentro de su borde.',
        'Por favor, recójalo a {limit} para más seguridad.',
      ],
    },
  },
  'underbase-missing': {
    effect: 'Directamente sobre una camiseta oscura, los colores se ven apagados y más oscuros.',
    settled: 'El blanco bajo sus colores está resuelto.',
    offer: 'add',
    codes: {
      'no-base': [
        'En esta camiseta oscura {inks} no {many, plural, one {tiene} other {tienen}} blanco debajo.',
        'Por favor, añada una base blanca; cuenta como una tinta más.',
      ],
      'part-without-base': ['{value} de {inks} no tiene blanco debajo.', 'Por favor, amplíe el blanco.'],
      'detail-without-base': [
        'Las partes finas de {inks} no tienen blanco debajo.',
        'Por favor, díganos si pueden verse un poco más oscuras.',
      ],
    },
  },
  'wide-trap': {
    effect: 'Un solape tan ancho se ve como una línea más oscura.',
    settled: 'El solape de {ink} y {other} está resuelto.',
    offer: 'change',
    codes: {
      'overlap-shows': ['Donde {ink} toca {other} se solapan {value}.', 'Por favor, estréchelo a {limit}.'],
      'close-to-limit': [
        'Donde {ink} toca {other} se solapan unos {value}.',
        'Por favor, díganos si ahí puede haber una línea más oscura.',
      ],
    },
  },
  'too-many-stations': {
    effect: 'No se puede imprimir de una vez en esta máquina.',
    settled: 'El diseño ya cabe en la máquina.',
    offer: 'merge',
    codes: {
      'press-too-small': [
        'El diseño necesita {number, plural, one {# estación} other {# estaciones}} y la máquina tiene {most}.',
        'Por favor, díganos si dos tintas pueden ser una.',
      ],
    },
  },
  'platen-overrun': {
    effect: 'En el borde de la tabla se imprime desigual o nada.',
    settled: 'El diseño ya cabe en la tabla.',
    offer: 'change',
    codes: {
      'runs-off-the-platen': [
        'El diseño necesita {short} más de sitio a cada lado de la tabla.',
        'Por favor, díganos si se puede reducir.',
      ],
      'tight-margin': [
        'El diseño deja solo {value} de tabla en su borde; preferimos {limit}.',
        'Por favor, díganos si se puede reducir un poco.',
      ],
    },
  },
  'print-order': {
    effect: 'El orden cambia cómo se cubren los colores.',
    settled: 'El orden de impresión está resuelto.',
    offer: 'change',
    codes: {
      'base-not-first': ['El pedido pone {ink} antes de la base {other}.', 'Por favor, díganos si debe ser así.'],
      'key-not-last': ['El pedido pone {ink} antes de {other}.', 'Por favor, díganos si debe ser así.'],
      'highlight-not-last': ['El pedido pone el brillo {ink} antes de {other}.', 'Por favor, díganos si debe ser así.'],
      'dark-before-light': ['El pedido pone {ink} antes de {other}, más claro.', 'Por favor, díganos si debe ser así.'],
    },
  },
  'heavy-stack': {
    effect: 'La impresión quedará rígida al tacto.',
    settled: 'La cantidad de tinta está resuelta.',
    offer: 'change',
    codes: {
      'heavy-solid': [
        'Sumadas, las tintas cubren {value} del fotolito.',
        'Por favor, díganos si la camiseta puede verse en partes.',
      ],
    },
  },
};
