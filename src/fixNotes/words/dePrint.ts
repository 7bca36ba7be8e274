import type { FindingsLike } from './catalogue.ts';
import type { enPrint } from './enPrint.ts';

export const dePrint: FindingsLike<typeof enPrint> = {
  'thin-line': {
    effect: 'So dünne Linien fallen zwischen die Fäden des Gewebes und reißen auf.',
    settled: 'Die Linien in {inks} sind jetzt breit genug.',
    offer: 'change',
    codes: {
      'breaks-up': [
        '{count, plural, one {Eine Linie in {inks} ist {value} breit} other {# Linien in {inks} sind zu dünn, die dünnste {value}}}.',
        'Bitte verstärken Sie {count, plural, one {sie} other {alle}} auf mindestens {limit}.',
      ],
      'close-to-limit': [
        'Eine Linie in {inks} ist etwa {value} breit, an der Grenze des Druckbaren.',
        'Bitte verstärken Sie sie sicherheitshalber auf {safe}, oder senden Sie die Vektordatei.',
      ],
      'tapers-away': [
        'Spitzen in {inks} laufen aus und enden bis zu {value} zu früh.',
        'Sollen sie so lang sein, machen Sie ihre Enden bitte stumpfer.',
      ],
    },
  },
  'thin-gap': {
    effect: 'So schmale Lücken laufen mit Farbe zu.',
    settled: 'Die Lücken in {inks} sind jetzt breit genug.',
    offer: 'change',
    codes: {
      'fills-in': [
        '{count, plural, one {Eine Lücke in {inks} ist {value} breit} other {# Lücken in {inks} sind zu schmal, die schmalste {value}}}.',
        'Bitte öffnen Sie {count, plural, one {sie} other {alle}} auf mindestens {limit}.',
      ],
      'close-to-limit': [
        'Eine Lücke in {inks} ist etwa {value} breit, an der Grenze dessen, was offen bleibt.',
        'Bitte öffnen Sie sie sicherheitshalber auf {safe}, oder senden Sie die Vektordatei.',
      ],
      'closes-to-a-point': [
        'Schmale Spitzen aus freiem Hemd in {inks} laufen über bis zu {value} zu.',
        'Sollen sie offen bleiben, schneiden Sie sie bitte stumpf ab.',
      ],
    },
  },
  'small-dot': {
    effect: 'So kleine Punkte finden zu wenig Halt am Gewebe und drucken fleckig oder gar nicht.',
    settled: 'Die Punkte in {inks} sind jetzt groß genug.',
    offer: 'change',
    codes: {
      'washes-out': [
        '{count, plural, one {Ein Punkt in {inks} misst {value}} other {# Punkte in {inks} sind zu klein, der kleinste {value}}}.',
        'Bitte vergrößern Sie {count, plural, one {ihn} other {alle}} auf mindestens {limit}.',
      ],
      'scattered-too-fine': [
        'Die Töne in {inks} bestehen aus gestreuten Punkten von {value}.',
        'Bitte geben Sie sie mit Punkten von mindestens {limit} aus.',
      ],
      'close-to-limit': [
        'Ein Punkt in {inks} misst etwa {value}, an der Grenze des Druckbaren.',
        'Bitte vergrößern Sie ihn sicherheitshalber auf {safe}, oder senden Sie die Vektordatei.',
      ],
    },
  },
  'lost-island': {
    effect: 'So kleine Löcher laufen mit Farbe zu.',
    settled: 'Die kleinen Löcher in {inks} bleiben jetzt offen.',
    offer: 'change',
    codes: {
      'washes-off': [
        '{count, plural, one {Ein Loch in {inks} misst {value}} other {# Löcher in {inks} sind zu klein, das kleinste {value}}}.',
        'Bitte öffnen Sie {count, plural, one {es} other {alle}} auf mindestens {limit}, oder füllen Sie {count, plural, one {es} other {sie}}.',
      ],
      'close-to-limit': [
        'Ein Loch in {inks} misst etwa {value}, an der Grenze dessen, was offen bleibt.',
        'Bitte öffnen Sie es sicherheitshalber auf {safe}, oder senden Sie die Vektordatei.',
      ],
    },
  },
  'small-type': {
    effect: 'So kleine Schrift bleibt auf Stoff nicht lesbar.',
    settled: 'Die kleine Schrift in {inks} ist geklärt.',
    offer: 'change',
    codes: {
      'too-small-to-read': [
        '{count, plural, one {Ein Text in {inks} hat {value}} other {# Texte in {inks} sind zu klein, der kleinste {value}}}.',
        'Bitte vergrößern Sie {count, plural, one {ihn} other {sie}} auf {limit}, oder lassen Sie {count, plural, one {ihn} other {sie}} weg.',
      ],
    },
  },
  'coarse-mesh-for-ruling': {
    effect: 'Ein so feiner Raster druckt auf diesem Gewebe körnig.',
    settled: 'Das Raster in {inks} passt jetzt zum Stoff.',
    offer: 'change',
    codes: {
      'too-coarse': [
        'Der Raster in {inks} ist zu fein für dieses Textil.',
        'Bitte geben Sie ihn mit weniger Linien je Zoll aus.',
      ],
      coarse: [
        'Der Raster in {inks} ist fein für dieses Textil.',
        'Bitte geben Sie ihn sicherheitshalber mit weniger Linien je Zoll aus.',
      ],
    },
  },
  'tone-out-of-range': {
    effect: 'Die hellsten Töne gehen verloren, die dunkelsten laufen zu.',
    settled: 'Die Töne in {inks} halten jetzt.',
    offer: 'change',
    codes: {
      'lights-lost': [
        '{value} des Rasters in {inks} sind zu hell zum Drucken.',
        'Bitte machen Sie diese Töne dunkler, oder nehmen Sie sie heraus.',
      ],
      'darks-filled': [
        '{value} des Rasters in {inks} sind so dunkel, dass sie zulaufen.',
        'Bitte machen Sie diese Töne heller oder ganz voll.',
      ],
      'close-to-limit': [
        'Ein Teil des Rasters in {inks} liegt an der Grenze des Druckbaren.',
        'Bitte sagen Sie uns, ob er verloren gehen oder zulaufen darf.',
      ],
    },
  },
  'mesh-moire': {
    effect: 'Ein Raster, der mit den Fäden schwebt, zeigt nach Schätzung Streifen.',
    settled: 'Das Raster in {inks} sollte jetzt keine Streifen zeigen.',
    offer: 'change',
    codes: {
      'seen-plainly': [
        'Der Raster in {inks} wird Streifen zeigen.',
        'Bitte geben Sie ihn mit anderer Rasterweite oder anderem Winkel aus.',
      ],
      'may-be-seen': [
        'Der Raster in {inks} kann Streifen zeigen.',
        'Bitte geben Sie ihn sicherheitshalber mit anderer Rasterweite oder anderem Winkel aus.',
      ],
    },
  },
  'angle-clash': {
    effect: 'Raster mit ähnlichen Winkeln zeigen ein Muster, wo sie aufeinander drucken.',
    settled: 'Die Winkel der Raster passen jetzt.',
    offer: 'change',
    codes: {
      clash: [
        'Die Raster in {inks} stehen nur {value} auseinander.',
        'Bitte geben Sie sie mit {limit} Abstand der Winkel aus.',
      ],
      'close-to-limit': [
        'Die Raster in {inks} stehen etwa {value} auseinander, an der Grenze.',
        'Bitte geben Sie sie sicherheitshalber mit {limit} Abstand der Winkel aus.',
      ],
    },
  },
  'soft-dot': {
    effect: 'Weiche, graue Punkte geben keine saubere Schablone und drucken ungleichmäßig.',
    settled: 'Die Punkte in {inks} sind jetzt scharf.',
    offer: 'change',
    codes: {
      soft: [
        '{value} der Punkte in {inks} haben weiche, graue Ränder.',
        'Bitte senden Sie den Raster in reinem Schwarz und Weiß in der Auflösung des Films.',
      ],
    },
  },
  'missing-registration-mark': {
    effect:
      'Ohne gemeinsame Marken werden die Filme nach Augenmaß gepasst, und die Farben treffen sich vielleicht nicht.',
    settled: 'Die Passermarken sind jetzt da.',
    offer: 'add',
    codes: {
      'lacks-marks': [
        'Dem Film für {inks} {count, plural, one {fehlt eine Marke} other {fehlen # Marken}}, die die anderen haben.',
        'Bitte setzen Sie dieselben Passermarken auf jeden Film.',
      ],
      'no-marks': [
        'Kein Film hat Passermarken.',
        'Bitte setzen Sie {most, plural, one {dieselbe Marke} other {dieselben # Marken}} auf jeden Film.',
      ],
      'unmatched-marks': [
        'Die Filme haben Passermarken, aber nicht alle an derselben Stelle.',
        'Bitte geben Sie alle Filme von einer Seite mit einem Satz Marken aus.',
      ],
      'few-marks': [
        'Die Filme haben {number, plural, one {# Passermarke} other {# Passermarken}} und brauchen {most}.',
        'Bitte ergänzen Sie die fehlenden auf jedem Film.',
      ],
    },
  },
  'marks-disagree': {
    effect: 'Nach diesen Marken gepasst treffen sich die Farben nicht.',
    settled: 'Die Passermarken passen jetzt zueinander.',
    offer: 'asIs',
    codes: {
      'marks-apart': [
        'Die Marken auf dem Film für {inks} liegen {value} neben denen der anderen.',
        'Bitte geben Sie alle Filme in einem Zug von einer Seite aus.',
      ],
      'mark-moved': [
        'Auf dem Film für {inks} ist eine Marke verschoben.',
        'Bitte setzen Sie sie zurück und geben Sie den Film neu aus.',
      ],
      'art-off-marks': [
        'Auf dem Film für {inks} liegt das Motiv {value} neben der Stelle, die seine Marken sagen.',
        'Bitte sagen Sie uns, ob das Motiv nach dem Setzen der Marken bewegt wurde.',
      ],
      'close-to-limit': [
        'Die Marken auf dem Film für {inks} liegen vielleicht {value} neben den anderen.',
        'Bitte sagen Sie uns, ob alle Filme in einem Zug ausgegeben wurden.',
      ],
    },
  },
  'misaligned-film': {
    effect: 'Die Farben von Filmen, die auseinanderliegen, treffen sich nicht.',
    settled: 'Die Filme liegen jetzt genau aufeinander.',
    offer: 'change',
    codes: {
      shifted: [
        'Der Film für {inks} liegt {value} daneben.',
        'Bitte geben Sie alle Filme von einer Seite aus, ohne einen zu bewegen.',
      ],
      turned: [
        'Der Film für {inks} ist gedreht, um bis zu {value}.',
        'Bitte geben Sie alle Filme in einem Zug auf demselben Gerät aus.',
      ],
      'close-to-limit': [
        'Der Film für {inks} liegt vielleicht {value} daneben.',
        'Bitte sagen Sie uns, ob alle Filme in einem Zug ausgegeben wurden.',
      ],
    },
  },
  'scaled-film': {
    effect: 'Ein Film mit anderem Maßstab lässt sich den anderen nicht anpassen.',
    settled: 'Die Filme haben jetzt einen Maßstab.',
    offer: 'asIs',
    codes: {
      stretched: [
        'Der Film für {inks} weicht im Maßstab um {value} ab.',
        'Bitte geben Sie alle Filme in einem Zug auf demselben Gerät mit 100 % aus.',
      ],
      'close-to-limit': [
        'Der Film für {inks} weicht im Maßstab vielleicht um {value} ab.',
        'Bitte sagen Sie uns, ob alle Filme in einem Zug mit 100 % ausgegeben wurden.',
      ],
    },
  },
  'short-trap': {
    effect: 'Die kleinste Verschiebung auf der Maschine zeigt eine dünne Linie Hemd zwischen den Farben.',
    settled: '{ink} und {other} überlappen jetzt genug.',
    offer: 'change',
    codes: {
      'overlap-too-small': [
        'Wo {ink} an {other} stößt, überlappen sie um {value}.',
        'Bitte verbreitern Sie auf {limit}; die Kanten wandern um weniger als ein Haar.',
      ],
      'close-to-limit': [
        'Wo {ink} an {other} stößt, überlappen sie um etwa {value}.',
        'Bitte verbreitern Sie sicherheitshalber auf {limit}.',
      ],
    },
  },
  'open-gap': {
    effect: 'Zwischen den Farben ist das Hemd zu sehen.',
    settled: 'Die Lücke zwischen {ink} und {other} ist geklärt.',
    offer: 'change',
    codes: {
      'shirt-shows-through': [
        'Zwischen {ink} und {other} ist eine Lücke von {value}.',
        'Bitte schließen Sie sie mit einer kleinen Überlappung.',
      ],
      'wide-gap': [
        'Zwischen {ink} und {other} ist eine Lücke von {value}.',
        'Bitte sagen Sie uns, ob sie als Linie aus freiem Hemd gemeint ist.',
      ],
      'close-to-limit': [
        'Zwischen {ink} und {other} ist vielleicht eine haarfeine Lücke.',
        'Bitte schließen Sie sie mit einer kleinen Überlappung, oder senden Sie die Vektordatei.',
      ],
    },
  },
  'butt-joint': {
    effect: 'Die kleinste Verschiebung auf der Maschine zeigt dazwischen das Hemd.',
    settled: '{ink} und {other} überlappen jetzt.',
    offer: 'add',
    codes: {
      'edges-butt': ['{ink} und {other} stoßen Kante an Kante.', 'Bitte geben Sie eine kleine Überlappung zu.'],
      'edges-may-butt': [
        '{ink} und {other} stoßen vielleicht Kante an Kante.',
        'Bitte geben Sie eine kleine Überlappung zu.',
      ],
    },
  },
  'underbase-peek': {
    effect: 'Die Unterlage zeigt sich als Saum um Ihre Farben.',
    settled: 'Das {ink} bleibt jetzt unter Ihren Farben verborgen.',
    offer: 'change',
    codes: {
      'base-peeks-out': [
        '{ink} unter Ihren Farben würde um {value} hervorschauen.',
        'Bitte ziehen Sie es um {limit} zurück; sehr feine Teile liegen dann direkt auf dem Hemd und wirken dunkler.',
      ],
      'choke-too-small': [
        '{ink} unter Ihren Farben liegt nur {value} innerhalb ihrer Kante.',
        'Bitte ziehen Sie es auf {limit} zurück.',
      ],
      'close-to-limit': [
        '{ink} unter Ihren Farben liegt etwa {value} innerhalb ihrer Kante.',
        'Bitte ziehen Sie es sicherheitshalber auf {limit} zurück.',
      ],
    },
  },
  'underbase-missing': {
    effect: 'Direkt auf dunklem Hemd wirken Farben stumpf und dunkler.',
    settled: 'Das Weiß unter Ihren Farben ist geklärt.',
    offer: 'add',
    codes: {
      'no-base': [
        'Auf diesem dunklen Hemd {many, plural, one {hat} other {haben}} {inks} kein Weiß darunter.',
        'Bitte ergänzen Sie eine weiße Unterlage; sie zählt als weitere Farbe.',
      ],
      'part-without-base': ['{value} von {inks} haben kein Weiß darunter.', 'Bitte erweitern Sie das Weiß.'],
      'detail-without-base': [
        'Feine Teile von {inks} haben kein Weiß darunter.',
        'Bitte sagen Sie uns, ob sie etwas dunkler wirken dürfen.',
      ],
    },
  },
  'wide-trap': {
    effect: 'Eine so breite Überlappung zeigt sich als dunklere Linie.',
    settled: 'Die Überlappung von {ink} und {other} ist geklärt.',
    offer: 'change',
    codes: {
      'overlap-shows': ['Wo {ink} an {other} stößt, überlappen sie um {value}.', 'Bitte verschmälern Sie auf {limit}.'],
      'close-to-limit': [
        'Wo {ink} an {other} stößt, überlappen sie um etwa {value}.',
        'Bitte sagen Sie uns, ob dort eine dunklere Linie sein darf.',
      ],
    },
  },
  'too-many-stations': {
    effect: 'Auf dieser Maschine lässt es sich nicht in einem Gang drucken.',
    settled: 'Die Vorlage passt jetzt auf die Maschine.',
    offer: 'merge',
    codes: {
      'press-too-small': [
        'Die Vorlage braucht {number, plural, one {# Station} other {# Stationen}}, die Maschine hat {most}.',
        'Bitte sagen Sie uns, ob zwei Farben eine werden können.',
      ],
    },
  },
  'platen-overrun': {
    effect: 'Am Rand der Druckpalette druckt es ungleichmäßig oder gar nicht.',
    settled: 'Die Vorlage passt jetzt auf die Druckpalette.',
    offer: 'change',
    codes: {
      'runs-off-the-platen': [
        'Die Vorlage braucht an jeder Seite der Druckpalette {short} mehr Platz.',
        'Bitte sagen Sie uns, ob sie verkleinert werden darf.',
      ],
      'tight-margin': [
        'Die Vorlage lässt am Rand der Druckpalette nur {value}; wir haben gern {limit}.',
        'Bitte sagen Sie uns, ob sie etwas verkleinert werden darf.',
      ],
    },
  },
  'print-order': {
    effect: 'Die Reihenfolge ändert, wie Farben einander decken.',
    settled: 'Die Reihenfolge beim Drucken ist geklärt.',
    offer: 'change',
    codes: {
      'base-not-first': [
        'Im Auftrag steht {ink} vor der Unterlage {other}.',
        'Bitte sagen Sie uns, ob das so sein muss.',
      ],
      'key-not-last': ['Im Auftrag steht {ink} vor {other}.', 'Bitte sagen Sie uns, ob das so sein muss.'],
      'highlight-not-last': [
        'Im Auftrag steht das Spitzlicht {ink} vor {other}.',
        'Bitte sagen Sie uns, ob das so sein muss.',
      ],
      'dark-before-light': [
        'Im Auftrag steht {ink} vor dem helleren {other}.',
        'Bitte sagen Sie uns, ob das so sein muss.',
      ],
    },
  },
  'heavy-stack': {
    effect: 'Der Druck wird sich steif anfühlen.',
    settled: 'Die Menge der Farbe ist geklärt.',
    offer: 'change',
    codes: {
      'heavy-solid': [
        'Zusammengerechnet decken die Farben {value} des Films.',
        'Bitte sagen Sie uns, ob das Hemd stellenweise durchscheinen darf.',
      ],
    },
  },
};
