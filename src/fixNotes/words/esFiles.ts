import type { FindingsLike } from './catalogue.ts';
import type { enFiles } from './enFiles.ts';

export const esFiles: FindingsLike<typeof enFiles> = {
  'extra-ink': {
    effect: 'Cada tinta más es un fotolito, una pantalla y una pasada más.',
    settled: 'El número de tintas ya encaja.',
    offer: 'merge',
    codes: {
      'more-than-allowed': [
        'El diseño usa {number, plural, one {# tinta} other {# tintas}} ({inks}); el trabajo admite {most}.',
        'Por favor, díganos cuáles pueden unirse.',
      ],
    },
  },
  'near-duplicate-ink': {
    effect: 'Así se imprimirían como dos tintas, con dos fotolitos.',
    settled: 'Las tintas ya se distinguen bien.',
    offer: 'merge',
    codes: {
      'same-ink-twice': [
        '{ink} y {other} son una tinta con dos nombres.',
        'Por favor, confirme que es una sola tinta.',
      ],
      'same-name': [
        '{ink} y {other} se llaman igual, pero no tienen el mismo color en el archivo.',
        'Por favor, díganos si es una tinta y qué color vale.',
      ],
      'similar-colour': [
        '{ink} y {other} tienen casi el mismo color.',
        'Por favor, díganos si necesita las dos o basta con una.',
      ],
    },
  },
  'unnamed-ink': {
    effect: 'Sin nombre no sabemos qué tinta preparar.',
    settled: 'Cada color tiene ya el nombre de su tinta.',
    offer: 'merge',
    codes: {
      'colour-without-name': [
        '{inks} no {many, plural, one {tiene} other {tienen}} nombre de tinta.',
        'Por favor, díganos qué tinta quiere{many, plural, one {} other { para cada uno}}.',
      ],
    },
  },
  'unused-ink': {
    effect: 'En esta tinta no se imprimiría nada.',
    settled: 'Todas las tintas de la lista se usan ya.',
    offer: 'leaveOut',
    codes: {
      'blank-film': ['El fotolito de {inks} está vacío.', 'Por favor, mire si faltó algo al exportar.'],
      'never-painted': ['El archivo nombra {inks}, pero no lo usa.', 'Por favor, díganos si falta algo.'],
    },
  },
  'ink-not-on-ticket': {
    effect: 'Se imprimiría una tinta que no se pidió.',
    settled: 'Las tintas son las que se pidieron.',
    offer: 'merge',
    codes: {
      'not-listed': [
        'El diseño tiene {inks}, que no está entre las tintas pedidas.',
        'Por favor, díganos si es una tinta más o una de las pedidas con otro nombre.',
      ],
    },
  },
  'ink-missing-from-art': {
    effect: 'Esta tinta faltaría en la impresión.',
    settled: 'La tinta que faltaba ya está.',
    offer: 'leaveOut',
    codes: {
      'not-in-the-art': [
        'Se pidió {inks}, pero el diseño no tiene nada en esa tinta.',
        'Por favor, envíe la parte que falta.',
      ],
    },
  },
  'oversize-art': {
    effect: 'Se imprimiría más grande de lo pedido; al reducir, las líneas finas también se adelgazan.',
    settled: 'El tamaño ya encaja.',
    offer: 'change',
    codes: {
      'larger-than-ordered': [
        'El diseño es {value} más grande que la impresión pedida.',
        'Por favor, díganos si lo quiere más pequeño, o la impresión más grande.',
      ],
      'close-to-limit': ['El diseño es unos {value} más grande de lo pedido.', 'Por favor, díganos si lo quiere así.'],
    },
  },
  'unequal-films': {
    effect: 'Fotolitos de distinto tamaño no se pueden poner uno sobre otro, y las tintas no encajarían.',
    settled: 'Todos los fotolitos tienen ya el mismo tamaño.',
    offer: 'asIs',
    codes: {
      'sizes-differ': [
        'Los fotolitos difieren en {value} de tamaño.',
        'Por favor, expórtelos todos desde una página, a un tamaño.',
      ],
    },
  },
  'unknown-scale': {
    effect: 'Podría imprimirse a cualquier tamaño.',
    settled: 'El tamaño de la impresión ya está claro.',
    offer: 'asIs',
    codes: {
      'size-not-stated': [
        'El archivo no dice a qué tamaño se imprime.',
        'Por favor, díganos el ancho de la impresión.',
      ],
    },
  },
  'coarse-image': {
    effect: 'Ampliada a este tamaño, una imagen muestra escalones y se ve borrosa.',
    settled: 'La imagen ya tiene bastante resolución.',
    offer: 'asIs',
    codes: {
      'too-coarse': [
        '{count, plural, one {Una imagen tiene {value}} other {# imágenes tienen hasta solo {value}}} al tamaño de impresión.',
        'Por favor, envíe el original con {limit} o más, o el archivo vectorial.',
      ],
    },
  },
  'live-type': {
    effect: 'Sin su fuente, el texto se imprime con otra y puede correrse.',
    settled: 'Los textos ya están seguros.',
    offer: 'asIs',
    codes: {
      'font-replaced': [
        '{count, plural, one {Un texto llegó} other {# textos llegaron}} sin la fuente.',
        'Por favor, convierta el texto en trazados, o adjunte las fuentes.',
      ],
      'font-not-embedded': [
        '{count, plural, one {Un texto llegó} other {# textos llegaron}} sin la fuente; no es seguro qué se imprime.',
        'Por favor, convierta el texto en trazados, o adjunte las fuentes.',
      ],
    },
  },
  'hidden-object': {
    effect: 'No se verá en la impresión.',
    settled: 'En el archivo ya no hay nada oculto.',
    offer: 'leaveOut',
    codes: {
      'unseen-object': [
        '{count, plural, one {Un objeto del archivo no se verá} other {# objetos del archivo no se verán}}.',
        'Por favor, díganos si falta algo.',
      ],
      'layer-switched-off': [
        '{count, plural, one {Un objeto está} other {# objetos están}} en una capa apagada.',
        'Por favor, díganos si {count, plural, one {debe} other {deben}} imprimirse.',
      ],
      'white-on-clear': [
        '{count, plural, one {Un objeto blanco está} other {# objetos blancos están}} sobre fondo vacío.',
        'Por favor, díganos si ahí quiere tinta blanca.',
      ],
    },
  },
  'reversed-polarity': {
    effect: 'Al revés se imprimiría el fondo y el dibujo quedaría libre.',
    settled: 'Los fotolitos ya son negros donde va la tinta.',
    offer: 'asIs',
    codes: {
      'looks-like-a-negative': [
        'El fotolito de {inks} es negro en {value} y su borde también: parece invertido.',
        'Por favor, expórtelo con negro donde va la tinta.',
      ],
      'inked-to-the-edges': [
        '{inks} llena {value} del fotolito, hasta sus bordes.',
        'Por favor, díganos si es la impresión que quiere o el fotolito está invertido.',
      ],
    },
  },
  'mirrored-film': {
    effect: 'El texto se imprimiría al revés si no se da la vuelta.',
    settled: 'Los fotolitos ya se leen al derecho.',
    offer: 'asIs',
    codes: {
      'says-it-is-mirrored': [
        'Un fotolito está guardado como espejo; lo leímos al derecho.',
        'Por favor, confirme que su texto no está al revés, o expórtelo otra vez sin girarlo.',
      ],
    },
  },
  'overprint-hazard': {
    effect: 'Una tinta impresa sobre otra cambia de color o no se ve.',
    settled: 'Ya ninguna tinta se imprime sobre otra por error.',
    offer: 'change',
    codes: {
      'light-over-dark': [
        '{count, plural, one {Un objeto} other {# objetos}} en {ink} se {count, plural, one {imprimiría} other {imprimirían}} sobre {other} y quizá no se {count, plural, one {vea} other {vean}}.',
        'Por favor, díganos si es así como lo quiere.',
      ],
      'colours-mix': [
        '{count, plural, one {Un objeto imprime} other {# objetos imprimen}} {ink} sobre {other}.',
        'Por favor, díganos si es así como lo quiere.',
      ],
    },
  },
  'white-overprint': {
    effect: 'El blanco que sobreimprime lo que hay debajo desaparece.',
    settled: 'El blanco ya se ve.',
    offer: 'change',
    codes: {
      'white-vanishes': [
        '{count, plural, one {Un objeto blanco desaparecerá} other {# objetos blancos desaparecerán}}.',
        'Por favor, quite la sobreimpresión del blanco.',
      ],
      'white-may-vanish': [
        '{count, plural, one {Un objeto blanco puede} other {# objetos blancos pueden}} desaparecer.',
        'Por favor, quite la sobreimpresión del blanco.',
      ],
    },
  },
  'semi-opaque-positive': {
    effect: 'Un fotolito debe ser negro o transparente: el gris endurece a medias la emulsión e imprime desigual.',
    settled: '{inks} ya es negro donde imprime.',
    offer: 'change',
    codes: {
      'grey-areas': [
        '{value} del fotolito de {inks} es gris.',
        'Por favor, use ahí tinta plena, o díganos que lo hagamos puntos.',
      ],
      'nowhere-black': ['{inks} está dibujado a {value} como máximo.', 'Por favor, póngalo al 100 % de su tinta.'],
    },
  },
  pinhole: {
    effect: 'Un punto libre en una superficie puede dejar un sitio sin tinta.',
    settled: 'Las motas en {inks} están resueltas.',
    offer: 'change',
    codes: {
      'speck-that-holds': [
        'En la superficie de {inks} hay {count, plural, one {un punto libre} other {# puntos libres}}, de hasta {value}.',
        'Por favor, díganos si {count, plural, one {es intencionado} other {son intencionados}}.',
      ],
      'close-to-limit': [
        'En la superficie de {inks} hay un punto libre de unos {value}.',
        'Por favor, díganos si es intencionado.',
      ],
    },
  },
};
