import type { PrinterWords } from './catalogue.ts';

const loupe = 'Auf dem Film unter der Lupe nachmessen: {value} kann {limit} nicht entscheiden.';
const order = '{ink} hinter {other} stellen.';

export const dePrinter: PrinterWords = {
  'extra-ink': {
    'more-than-allowed':
      'Farben zusammenlegen, eine als Ton einer anderen drucken oder auf der Auftragstasche zulassen.',
  },
  'near-duplicate-ink': {
    'same-ink-twice': 'Was in {other} steht, auf den Film von {ink} nehmen: ein Film und ein Sieb weniger.',
    'same-name': 'Vor dem Belichten fragen, welcher Farbton gemeint ist.',
    'similar-colour': '{ink} und {other} zusammenlegen, wenn der Kunde zustimmt.',
  },
  'unnamed-ink': {
    'colour-without-name':
      'Die Farbe für {inks} auf der Auftragstasche benennen, damit der Film richtig beschriftet ist.',
  },
  'unused-ink': {
    'blank-film':
      'Für {inks} kein Sieb beschichten: der Film ist klar. Nach dem fehlenden Teil fragen oder die Farbe streichen.',
    'never-painted': '{inks} weglassen; es steht in der Farbliste der Datei und malt nichts.',
  },
  'ink-not-on-ticket': {
    'not-listed': 'Für {inks} ein Sieb auf die Auftragstasche setzen oder es einer aufgeführten Farbe geben.',
  },
  'ink-missing-from-art': {
    'not-in-the-art': 'Den Film für {inks} beschaffen oder machen, oder sein Sieb von der Auftragstasche nehmen.',
  },
  'oversize-art': {
    'larger-than-ordered': 'Um {value} verkleinern und dünne Linien neu prüfen, oder die Druckgröße ändern.',
    'close-to-limit': loupe,
  },
  'unequal-films': {
    'sizes-differ': 'Den Satz neu verlangen: {value} Unterschied. Nicht einen einzelnen Film passend skalieren.',
  },
  'unknown-scale': {
    'size-not-stated': 'Die Auflösung des Films auf die Auftragstasche schreiben (film.dpi) und neu prüfen.',
  },
  'coarse-image': {
    'too-coarse':
      'Das Original verlangen; Vergrößern von {value} auf {limit} bringt keine Einzelheiten. Kleiner drucken oder das Aussehen absprechen.',
  },
  'live-type': {
    'font-replaced':
      'Nicht belichten: die gezeigte Schrift ist nicht die des Kunden. Pfade verlangen oder die Schriftart installieren und neu prüfen.',
    'font-not-embedded': 'Mit einem Andruck des Kunden vergleichen oder Pfade verlangen.',
  },
  'hidden-object': {
    'unseen-object': 'Verdecktes vor der Ausgabe löschen; vorher fragen, wenn es nach Motiv aussieht.',
    'layer-switched-off': 'Fragen, ob die ausgeschaltete Ebene zum Auftrag gehört; sonst löschen.',
    'white-on-clear': 'Ist Weiß gewollt, eine benannte weiße Farbe geben; sonst löschen.',
  },
  'reversed-polarity': {
    'looks-like-a-negative': 'Nicht belichten: {inks} würde den Grund drucken. Den Film umkehren und neu prüfen.',
    'inked-to-the-edges': '{inks} vor dem Belichten ansehen: ein voller Grund oder ein Negativ.',
  },
  'mirrored-film': {
    'says-it-is-mirrored':
      'Die Schrift mit der Schichtseite oben lesen, bevor belichtet wird; sonst in der Datei wenden, nie auf dem Glas.',
  },
  'overprint-hazard': {
    'light-over-dark':
      'Überdrucken ausschalten, damit {ink} aus {other} ausgespart wird, oder {ink} danach mit deckender Farbe drucken.',
    'colours-mix': 'Überdrucken ausschalten, wo {inks} rein bleiben müssen.',
  },
  'white-overprint': {
    'white-vanishes': 'Überdrucken für Weiß und 0-%-Objekte ausschalten und neu prüfen.',
    'white-may-vanish': 'Überdrucken für diese Objekte ausschalten; dann sparen sie überall aus.',
  },
  'semi-opaque-positive': {
    'grey-areas': 'Das Grau von {inks} bei der Ausgabe rastern oder auf 100 % setzen.',
    'nowhere-black': '{inks} vor der Ausgabe auf 100 % setzen, oder {value} rastern, wenn ein Ton gewollt ist.',
  },
  pinhole: {
    'speck-that-holds': 'Pünktchen in {inks} mit Abdeckfarbe ausflecken oder den Film neu ausgeben.',
    'close-to-limit': loupe,
  },
  'thin-line': {
    'breaks-up': 'Auf mindestens {limit} verstärken, oder feineres Gewebe nehmen.',
    'close-to-limit': loupe,
    'tapers-away': 'Spitzen von {inks} laufen über {value} aus; auf dem Film abstumpfen, wenn die Länge zählt.',
  },
  'thin-gap': {
    'fills-in': 'Auf {limit} öffnen, oder feineres Gewebe nehmen.',
    'close-to-limit': loupe,
    'closes-to-a-point': 'Kerben in {inks} laufen über {value} zu; stumpf abschneiden, wenn sie offen sein müssen.',
  },
  'small-dot': {
    'washes-out': 'Auf {limit} vergrößern, oder feineres Gewebe nehmen.',
    'scattered-too-fine': 'Gestreute Punkte mit {limit} oder größer ausgeben.',
    'close-to-limit': loupe,
  },
  'lost-island': {
    'washes-off': 'Füllen oder auf {limit} öffnen, oder feineres Gewebe nehmen.',
    'close-to-limit': loupe,
  },
  'small-type': {
    'too-small-to-read': 'Von {value} auf {limit} vergrößern, fetter setzen oder dem Kunden einen Andruck zeigen.',
  },
  'coarse-mesh-for-ruling': {
    'too-coarse': 'Gröber rastern oder feineres Gewebe nehmen.',
    coarse: 'Ein Probedruck entscheidet; sonst gröber rastern oder feineres Gewebe nehmen.',
  },
  'tone-out-of-range': {
    'lights-lost': 'Die hellsten Töne fallen zwischen die Fäden: anheben, weglassen oder feineres Gewebe nehmen.',
    'darks-filled': 'Die dunkelsten Töne laufen zu: zurücknehmen, voll machen oder feineres Gewebe nehmen.',
    'close-to-limit': 'Die Enden des Rasters unter der Lupe ansehen.',
  },
  'mesh-moire': {
    'seen-plainly': 'Nach Schätzung sichtbar: andere Rasterweite, anderen Winkel oder anderes Gewebe nehmen.',
    'may-be-seen': 'Ein Probedruck entscheidet; sonst andere Rasterweite, anderen Winkel oder anderes Gewebe nehmen.',
  },
  'angle-clash': {
    clash: 'Mit {limit} Winkelabstand ausgeben; deckende Farben machen keine Rosette und dürfen gleich stehen.',
    'close-to-limit': 'Die beiden Filme aufeinanderlegen: ein Muster, das dort stört, stört im Druck.',
  },
  'soft-dot': {
    soft: 'Ist es ein Scan, den Film unter der Lupe ansehen; sonst einen Film in Schwarz und Weiß verlangen.',
  },
  'missing-registration-mark': {
    'lacks-marks': '{inks} mit Marken in Passerfarbe neu ausgeben; sonst wird nach Augenmaß gepasst.',
    'no-marks':
      '{most, plural, one {# Marke} other {# Marken}} in Passerfarbe ergänzen, oben und unten mittig außerhalb des Motivs.',
    'unmatched-marks':
      'Filme nach dem Motiv aufeinanderlegen: liegen die Marken dann auseinander, den Satz neu verlangen.',
    'few-marks': 'Mit Vorsicht passen: eine Marke zeigt keine Drehung, zwei zeigen keine Schräge.',
  },
  'marks-disagree': {
    'marks-apart': '{inks} neu ausgeben: die Marken liegen {value} daneben, die Maschine hält {limit}.',
    'mark-moved': '{inks} nach den anderen Marken passen und diese außer Acht lassen.',
    'art-off-marks':
      '{inks} nach den Marken auflegen und das Motiv ansehen; nach dem Motiv passen, wenn die Marken falsch sind.',
    'close-to-limit': loupe,
  },
  'misaligned-film': {
    shifted: '{inks} beim Befestigen um {value} zurücksetzen oder neu ausgeben.',
    turned: '{inks} zurückdrehen; ein schief gelegter Scan sieht ebenso aus.',
    'close-to-limit': loupe,
  },
  'scaled-film': {
    stretched: '{inks} neu ausgeben: {value} im Maßstab daneben. Verschieben oder Drehen hilft nicht.',
    'close-to-limit': 'Zwischen den äußersten Marken von {inks} und des ersten Films nachmessen.',
  },
  'short-trap': { 'overlap-too-small': '{ink} um {short} unter {other} ausdehnen.', 'close-to-limit': loupe },
  'open-gap': {
    'shirt-shows-through': '{ink} um {value} und die Überlappung unter {other} ausdehnen.',
    'wide-gap': 'Fragen, ob die Lücke von {value} gewollt ist; sonst {ink} unter {other} ausdehnen.',
    'close-to-limit': 'Diese Kante unter der Lupe ansehen; eine Überlappung entscheidet.',
  },
  'butt-joint': {
    'edges-butt': '{ink} unter {other} ausdehnen; hält die Maschine stumpfe Kanten, limits.trapMm auf 0 setzen.',
    'edges-may-butt': 'Ansehen, wo {ink} und {other} sich treffen: keine messbare Überlappung.',
  },
  'underbase-peek': {
    'base-peeks-out': '{ink} hier zurückziehen: es reicht {value} über die Farbe hinaus.',
    'choke-too-small': '{ink} um {short} weiter zurückziehen, auf {limit}.',
    'close-to-limit': loupe,
  },
  'underbase-missing': {
    'no-base': 'Unter {inks} eine Unterlage machen, zurückgezogen, zuerst gedruckt und zwischengetrocknet.',
    'part-without-base': 'Die Unterlage unter {inks} erweitern: {value} liegen auf dem bloßen Hemd.',
    'detail-without-base':
      'Feine Teile von {inks} sind schmaler als der Rückzug; dort weniger zurückziehen oder dunkler hinnehmen.',
  },
  'wide-trap': {
    'overlap-shows': '{ink} um {short} unter {other} zurückziehen, wenn die Mischfarbe nicht gewollt ist.',
    'close-to-limit': 'An einem Andruck ansehen.',
  },
  'too-many-stations': {
    'press-too-small': 'Farben zusammenlegen, in zwei Gängen drucken oder auf eine größere Maschine gehen.',
  },
  'platen-overrun': {
    'runs-off-the-platen': 'Verkleinern oder eine größere Palette nehmen: {limit} sind gewünscht.',
    'tight-margin': 'Die Palette erst ausprobieren: die Rakel kann über ihre Kante laufen.',
  },
  'print-order': {
    'base-not-first': '{other} nach vorn stellen und vor {ink} zwischentrocknen.',
    'key-not-last': order,
    'highlight-not-last': '{ink} ans Ende stellen, damit nichts es dämpft.',
    'dark-before-light': '{ink} und {other} tauschen, damit Hell vor Dunkel druckt.',
  },
  'heavy-stack': {
    'heavy-solid':
      'Die größten Flächen mit Struktur oder Ton öffnen, bis sie {limit} ergeben; oder feiner und weicher drucken.',
  },
};
