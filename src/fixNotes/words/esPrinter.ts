import type { PrinterWords } from './catalogue.ts';

const loupe = 'Medir en el fotolito con la lupa: {value} no decide frente a {limit}.';

export const esPrinter: PrinterWords = {
  'extra-ink': { 'more-than-allowed': 'Unir tintas, imprimir una como tono de otra, o admitirlas en la ficha.' },
  'near-duplicate-ink': {
    'same-ink-twice': 'Pasar lo de {other} al fotolito de {ink}: un fotolito y una pantalla menos.',
    'same-name': 'Preguntar qué color vale antes de insolar {ink} y {other} como dos tintas.',
    'similar-colour': 'Unir {ink} y {other} si el cliente está de acuerdo.',
  },
  'unnamed-ink': {
    'colour-without-name': 'Nombrar la tinta de {inks} en la ficha, para que el fotolito lleve su rótulo.',
  },
  'unused-ink': {
    'blank-film': 'No emulsionar pantalla para {inks}: su fotolito está vacío. Pedir lo que falta o quitar la tinta.',
    'never-painted': 'Dejar {inks} fuera; está en la lista de tintas del archivo y no pinta nada.',
  },
  'ink-not-on-ticket': {
    'not-listed': 'Añadir una pantalla para {inks} en la ficha, o darlo a una tinta que esté en ella.',
  },
  'ink-missing-from-art': {
    'not-in-the-art': 'Conseguir o hacer el fotolito de {inks}, o quitar su pantalla de la ficha.',
  },
  'oversize-art': {
    'larger-than-ordered': 'Reducir {value} y comprobar otra vez las líneas finas, o cambiar el tamaño en la ficha.',
    'close-to-limit': loupe,
  },
  'unequal-films': { 'sizes-differ': 'Pedir el juego otra vez: difieren {value}. No escalar un solo fotolito.' },
  'unknown-scale': { 'size-not-stated': 'Escribir la resolución en la ficha (film.dpi) y comprobar otra vez.' },
  'coarse-image': {
    'too-coarse':
      'Pedir el original; ampliar de {value} a {limit} no añade detalle. Imprimir más pequeño o acordar el aspecto.',
  },
  'live-type': {
    'font-replaced':
      'No insolar: la letra que se ve no es la del cliente. Pedir trazados, o instalar la fuente y comprobar otra vez.',
    'font-not-embedded': 'Comparar con una prueba del cliente, o pedir trazados.',
  },
  'hidden-object': {
    'unseen-object': 'Borrar lo oculto antes de sacar; preguntar si parece parte del diseño.',
    'layer-switched-off': 'Preguntar si la capa apagada es de este trabajo; si no, borrarla.',
    'white-on-clear': 'Si se quiere blanco, darle una tinta blanca con nombre; si no, borrarlo.',
  },
  'reversed-polarity': {
    'looks-like-a-negative': 'No insolar: {inks} imprimiría el fondo. Invertir el fotolito y comprobar otra vez.',
    'inked-to-the-edges': 'Mirar {inks} antes de insolar: o fondo pleno o negativo.',
  },
  'mirrored-film': {
    'says-it-is-mirrored':
      'Leer el texto con la emulsión arriba antes de insolar; si está mal, girar en el archivo, nunca en el cristal.',
  },
  'overprint-hazard': {
    'light-over-dark':
      'Quitar la sobreimpresión para que {ink} cale {other}, o imprimir {ink} después con tinta opaca.',
    'colours-mix': 'Quitar la sobreimpresión donde {inks} deban quedar limpias.',
  },
  'white-overprint': {
    'white-vanishes': 'Quitar la sobreimpresión del blanco y de los objetos al 0 %, y comprobar otra vez.',
    'white-may-vanish': 'Quitar la sobreimpresión de estos objetos; así calan siempre.',
  },
  'semi-opaque-positive': {
    'grey-areas': 'Tramar el gris de {inks} al sacar, o ponerlo al 100 %.',
    'nowhere-black': 'Poner {inks} al 100 % antes de sacar, o tramar su {value} si se quiere un tono.',
  },
  pinhole: {
    'speck-that-holds': 'Tapar los puntos de {inks} con opaco, o sacar otra vez el fotolito.',
    'close-to-limit': loupe,
  },
  'thin-line': {
    'breaks-up': 'Engrosar a {limit} como mínimo, o usar una malla más fina.',
    'close-to-limit': loupe,
    'tapers-away': 'Las puntas de {inks} se afinan en {value}; hacerlas romas si importa su largo.',
  },
  'thin-gap': {
    'fills-in': 'Abrir a {limit}, o usar una malla más fina.',
    'close-to-limit': loupe,
    'closes-to-a-point': 'Las muescas de {inks} se cierran en {value}; cortarlas romas si deben estar abiertas.',
  },
  'small-dot': {
    'washes-out': 'Agrandar a {limit}, o usar una malla más fina.',
    'scattered-too-fine': 'Sacar los puntos dispersos a {limit} o más.',
    'close-to-limit': loupe,
  },
  'lost-island': { 'washes-off': 'Rellenar o abrir a {limit}, o usar una malla más fina.', 'close-to-limit': loupe },
  'small-type': {
    'too-small-to-read': 'Agrandar de {value} a {limit}, usar un corte más grueso, o mostrar una muestra al cliente.',
  },
  'coarse-mesh-for-ruling': {
    'too-coarse': 'Usar una trama más gruesa o una malla más fina.',
    coarse: 'Una prueba decide; si no, trama más gruesa o malla más fina.',
  },
  'tone-out-of-range': {
    'lights-lost': 'Los tonos claros caen entre los hilos: subirlos, quitarlos o usar una malla más fina.',
    'darks-filled': 'Los tonos oscuros se llenan: bajarlos, hacerlos plenos o usar una malla más fina.',
    'close-to-limit': 'Mirar los extremos de la trama con la lupa.',
  },
  'mesh-moire': {
    'seen-plainly': 'Según la estimación se ve: cambiar lineatura, ángulo o malla.',
    'may-be-seen': 'Una prueba decide; si no, cambiar lineatura, ángulo o malla.',
  },
  'angle-clash': {
    clash: 'Sacar con {limit} entre ángulos; con tintas opacas pueden ir iguales.',
    'close-to-limit': 'Poner un fotolito sobre otro: el dibujo que moleste ahí molestará impreso.',
  },
  'soft-dot': { soft: 'Si es un escaneo, mirar el fotolito con la lupa; si no, pedir un fotolito en blanco y negro.' },
  'missing-registration-mark': {
    'lacks-marks': 'Sacar {inks} otra vez con marcas en color de registro; sin ellas se encaja a ojo.',
    'no-marks':
      'Añadir {most, plural, one {# marca} other {# marcas}} en color de registro, centradas arriba y abajo fuera del diseño.',
    'unmatched-marks':
      'Poner los fotolitos uno sobre otro por el dibujo: si las marcas no coinciden, pedir el juego otra vez.',
    'few-marks': 'Encajar con cuidado: una marca no muestra un giro, dos no muestran un sesgo.',
  },
  'marks-disagree': {
    'marks-apart': 'Sacar {inks} otra vez: sus marcas están a {value}, la máquina mantiene {limit}.',
    'mark-moved': 'Encajar {inks} por sus otras marcas y dejar esta aparte.',
    'art-off-marks': 'Poner {inks} por las marcas y mirar el dibujo; encajar por el dibujo si las marcas están mal.',
    'close-to-limit': loupe,
  },
  'misaligned-film': {
    shifted: 'Devolver {inks} {value} al fijarlo, o sacarlo otra vez.',
    turned: 'Girar {inks} de vuelta; un escaneo torcido se ve igual.',
    'close-to-limit': loupe,
  },
  'scaled-film': {
    stretched: 'Sacar {inks} otra vez: {value} de escala. Mover o girar no lo arregla.',
    'close-to-limit': 'Medir entre las marcas extremas de {inks} y del primer fotolito.',
  },
  'short-trap': { 'overlap-too-small': 'Extender {ink} {short} bajo {other}.', 'close-to-limit': loupe },
  'open-gap': {
    'shirt-shows-through': 'Extender {ink} {value} más el solape, bajo {other}.',
    'wide-gap': 'Preguntar si el hueco de {value} es intencionado; si no, extender {ink} bajo {other}.',
    'close-to-limit': 'Mirar este borde con la lupa; un solape lo decide.',
  },
  'butt-joint': {
    'edges-butt': 'Extender {ink} bajo {other}; si la máquina mantiene bordes a tope, poner limits.trapMm a 0.',
    'edges-may-butt': 'Mirar donde {ink} y {other} se tocan: no hay solape medible.',
  },
  'underbase-peek': {
    'base-peeks-out': 'Recoger {ink} aquí: llega {value} más allá del color.',
    'choke-too-small': 'Recoger {ink} {short} más, a {limit}.',
    'close-to-limit': loupe,
  },
  'underbase-missing': {
    'no-base': 'Hacer una base bajo {inks}, recogida, impresa primero y presecada.',
    'part-without-base': 'Ampliar la base bajo {inks}: {value} está sobre la camiseta.',
    'detail-without-base':
      'Las partes finas de {inks} son más estrechas que lo recogido; recoger menos ahí o aceptar que se vean oscuras.',
  },
  'wide-trap': {
    'overlap-shows': 'Recoger {ink} {short} bajo {other}, si no se quiere la mezcla.',
    'close-to-limit': 'Mirar una muestra impresa.',
  },
  'too-many-stations': { 'press-too-small': 'Unir tintas, imprimir en dos vueltas o pasar a una máquina mayor.' },
  'platen-overrun': {
    'runs-off-the-platen': 'Reducir o usar una tabla mayor: se quieren {limit}.',
    'tight-margin': 'Probar antes la tabla: la rasqueta puede pisar su borde.',
  },
  'print-order': {
    'base-not-first': 'Poner {other} al principio y presecarla antes de {ink}.',
    'key-not-last': 'Poner {ink} detrás de {other}.',
    'highlight-not-last': 'Poner {ink} al final, para que nada lo apague.',
    'dark-before-light': 'Cambiar {ink} y {other}, para imprimir claro antes que oscuro.',
  },
  'heavy-stack': {
    'heavy-solid': 'Abrir las superficies grandes con textura o tono hasta sumar {limit}; o imprimir más fino y suave.',
  },
};
