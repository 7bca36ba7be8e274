import type { FindingsLike } from './catalogue.ts';
import type { enFiles } from './enFiles.ts';

export const deFiles: FindingsLike<typeof enFiles> = {
  'extra-ink': {
    effect: 'Jede Farbe mehr ist ein Film, ein Sieb und ein Druckgang mehr.',
    settled: 'Die Zahl der Farben passt jetzt.',
    offer: 'merge',
    codes: {
      'more-than-allowed': [
        'Die Vorlage hat {number, plural, one {# Farbe} other {# Farben}} ({inks}); vorgesehen sind {most}.',
        'Bitte sagen Sie uns, welche davon zusammengelegt werden können.',
      ],
    },
  },
  'near-duplicate-ink': {
    effect: 'So würden sie als zwei Farben gedruckt, mit zwei Filmen.',
    settled: 'Die Farben sind jetzt klar zu unterscheiden.',
    offer: 'merge',
    codes: {
      'same-ink-twice': [
        '{ink} und {other} sind eine Farbe unter zwei Namen.',
        'Bitte bestätigen Sie, dass es eine Farbe ist.',
      ],
      'same-name': [
        '{ink} und {other} heißen gleich, haben in der Datei aber nicht denselben Farbton.',
        'Bitte sagen Sie uns, ob es eine Farbe ist und welcher Ton gilt.',
      ],
      'similar-colour': [
        '{ink} und {other} haben fast denselben Farbton.',
        'Bitte sagen Sie uns, ob Sie beide brauchen oder eine genügt.',
      ],
    },
  },
  'unnamed-ink': {
    effect: 'Ohne Namen wissen wir nicht, welche Farbe zu mischen ist.',
    settled: 'Jede Farbe hat jetzt ihren Namen.',
    offer: 'merge',
    codes: {
      'colour-without-name': [
        '{inks} {many, plural, one {hat} other {haben}} keinen Farbnamen.',
        'Bitte sagen Sie uns, welche Farbe Sie {many, plural, one {dafür} other {jeweils}} wünschen.',
      ],
    },
  },
  'unused-ink': {
    effect: 'In dieser Farbe würde nichts gedruckt.',
    settled: 'Jede genannte Farbe wird jetzt verwendet.',
    offer: 'leaveOut',
    codes: {
      'blank-film': ['Der Film für {inks} ist leer.', 'Bitte sehen Sie nach, ob beim Ausgeben etwas fehlte.'],
      'never-painted': ['Die Datei nennt {inks}, benutzt es aber nirgends.', 'Bitte sagen Sie uns, ob etwas fehlt.'],
    },
  },
  'ink-not-on-ticket': {
    effect: 'Es würde eine Farbe gedruckt, die nicht bestellt ist.',
    settled: 'Die Farben sind die bestellten.',
    offer: 'merge',
    codes: {
      'not-listed': [
        'Die Vorlage hat {inks}, das nicht zu den bestellten Farben gehört.',
        'Bitte sagen Sie uns, ob es eine weitere Farbe ist oder eine der bestellten unter anderem Namen.',
      ],
    },
  },
  'ink-missing-from-art': {
    effect: 'Diese Farbe würde im Druck fehlen.',
    settled: 'Die fehlende Farbe ist jetzt da.',
    offer: 'leaveOut',
    codes: {
      'not-in-the-art': [
        '{inks} ist bestellt, aber in der Vorlage ist nichts davon.',
        'Bitte senden Sie den fehlenden Teil.',
      ],
    },
  },
  'oversize-art': {
    effect: 'Der Druck würde größer als bestellt; beim Verkleinern werden auch feine Linien dünner.',
    settled: 'Die Größe passt jetzt.',
    offer: 'change',
    codes: {
      'larger-than-ordered': [
        'Die Vorlage ist {value} größer als der bestellte Druck.',
        'Bitte sagen Sie uns, ob sie kleiner werden soll oder der Druck größer.',
      ],
      'close-to-limit': [
        'Die Vorlage ist etwa {value} größer als bestellt.',
        'Bitte sagen Sie uns, ob Sie es so wünschen.',
      ],
    },
  },
  'unequal-films': {
    effect: 'Filme verschiedener Größe lassen sich nicht aufeinanderlegen, die Farben passen dann nicht.',
    settled: 'Alle Filme haben jetzt eine Größe.',
    offer: 'asIs',
    codes: {
      'sizes-differ': [
        'Die Filme unterscheiden sich um {value} in der Größe.',
        'Bitte geben Sie alle von einer Seite in einer Größe aus.',
      ],
    },
  },
  'unknown-scale': {
    effect: 'Der Druck könnte beliebig groß werden.',
    settled: 'Die Größe des Drucks ist jetzt klar.',
    offer: 'asIs',
    codes: {
      'size-not-stated': [
        'Die Datei sagt nicht, wie groß sie gedruckt wird.',
        'Bitte nennen Sie uns die Breite des Drucks.',
      ],
    },
  },
  'coarse-image': {
    effect: 'Auf diese Größe gebracht zeigt ein Bild Stufen und wirkt unscharf.',
    settled: 'Das Bild ist jetzt scharf genug.',
    offer: 'asIs',
    codes: {
      'too-coarse': [
        '{count, plural, one {Ein Bild hat in Druckgröße {value}} other {# Bilder haben in Druckgröße zum Teil nur {value}}}.',
        'Bitte senden Sie das Original mit {limit} oder mehr, oder die Vektordatei.',
      ],
    },
  },
  'live-type': {
    effect: 'Ohne seine Schriftart wird ein Text in einer anderen gedruckt und kann anders laufen.',
    settled: 'Die Schrift ist jetzt sicher.',
    offer: 'asIs',
    codes: {
      'font-replaced': [
        '{count, plural, one {Ein Text kam} other {# Texte kamen}} ohne die Schriftart.',
        'Bitte wandeln Sie Texte in Pfade um, oder fügen Sie die Schriftarten bei.',
      ],
      'font-not-embedded': [
        '{count, plural, one {Ein Text kam} other {# Texte kamen}} ohne die Schriftart; was gedruckt wird, ist nicht sicher.',
        'Bitte wandeln Sie Texte in Pfade um, oder fügen Sie die Schriftarten bei.',
      ],
    },
  },
  'hidden-object': {
    effect: 'Im Druck wird es nicht zu sehen sein.',
    settled: 'In der Datei ist nichts mehr verborgen.',
    offer: 'leaveOut',
    codes: {
      'unseen-object': [
        '{count, plural, one {Ein Objekt der Datei wird} other {# Objekte der Datei werden}} nicht zu sehen sein.',
        'Bitte sagen Sie uns, ob etwas fehlt.',
      ],
      'layer-switched-off': [
        '{count, plural, one {Ein Objekt liegt} other {# Objekte liegen}} auf einer ausgeschalteten Ebene.',
        'Bitte sagen Sie uns, ob {count, plural, one {es} other {sie}} gedruckt werden {count, plural, one {soll} other {sollen}}.',
      ],
      'white-on-clear': [
        '{count, plural, one {Ein weißes Objekt liegt} other {# weiße Objekte liegen}} auf leerem Grund.',
        'Bitte sagen Sie uns, ob dort weiße Farbe gemeint ist.',
      ],
    },
  },
  'reversed-polarity': {
    effect: 'Umgekehrt würde der Grund gedruckt und das Motiv bliebe frei.',
    settled: 'Die Filme sind jetzt schwarz, wo Farbe hinkommt.',
    offer: 'asIs',
    codes: {
      'looks-like-a-negative': [
        'Der Film für {inks} ist zu {value} schwarz, sein Rand auch: er sieht umgekehrt aus.',
        'Bitte geben Sie ihn schwarz aus, wo Farbe hinkommt.',
      ],
      'inked-to-the-edges': [
        '{inks} füllt {value} des Films bis an seine Ränder.',
        'Bitte sagen Sie uns, ob Sie diesen Druck wünschen oder der Film umgekehrt ist.',
      ],
    },
  },
  'mirrored-film': {
    effect: 'Schrift würde verkehrt herum gedruckt, wenn der Film nicht gewendet wird.',
    settled: 'Die Filme sind jetzt seitenrichtig.',
    offer: 'asIs',
    codes: {
      'says-it-is-mirrored': [
        'Ein Film ist gespiegelt gespeichert; wir haben ihn richtig herum gelesen.',
        'Bitte bestätigen Sie, dass seine Schrift stimmt, oder geben Sie ihn ohne Wenden neu aus.',
      ],
    },
  },
  'overprint-hazard': {
    effect: 'Farbe, die auf anderer gedruckt wird, ändert ihren Ton oder ist nicht zu sehen.',
    settled: 'Keine Farbe druckt mehr aus Versehen auf eine andere.',
    offer: 'change',
    codes: {
      'light-over-dark': [
        '{count, plural, one {Ein Objekt} other {# Objekte}} in {ink} würde{count, plural, one {} other {n}} auf {other} gedruckt und dort vielleicht nicht gesehen.',
        'Bitte sagen Sie uns, ob das so gemeint ist.',
      ],
      'colours-mix': [
        '{count, plural, one {Ein Objekt druckt} other {# Objekte drucken}} {ink} auf {other}.',
        'Bitte sagen Sie uns, ob das so gemeint ist.',
      ],
    },
  },
  'white-overprint': {
    effect: 'Weiß, das auf das Darunterliegende überdruckt, verschwindet.',
    settled: 'Das Weiß bleibt jetzt sichtbar.',
    offer: 'change',
    codes: {
      'white-vanishes': [
        '{count, plural, one {Ein weißes Objekt wird} other {# weiße Objekte werden}} verschwinden.',
        'Bitte schalten Sie das Überdrucken für Weiß aus.',
      ],
      'white-may-vanish': [
        '{count, plural, one {Ein weißes Objekt kann} other {# weiße Objekte können}} verschwinden.',
        'Bitte schalten Sie das Überdrucken für Weiß aus.',
      ],
    },
  },
  'semi-opaque-positive': {
    effect: 'Ein Film muss schwarz oder klar sein: Grau härtet die Schablone halb und druckt ungleichmäßig.',
    settled: '{inks} ist jetzt schwarz, wo es druckt.',
    offer: 'change',
    codes: {
      'grey-areas': [
        '{value} des Films für {inks} sind grau.',
        'Bitte nehmen Sie dort volle Farbe, oder lassen Sie uns Punkte daraus machen.',
      ],
      'nowhere-black': ['{inks} ist höchstens mit {value} angelegt.', 'Bitte legen Sie es mit 100 % der Farbe an.'],
    },
  },
  pinhole: {
    effect: 'Ein klares Pünktchen in einer Fläche kann eine Stelle ohne Farbe geben.',
    settled: 'Die Stellen in der Fläche von {inks} sind geklärt.',
    offer: 'change',
    codes: {
      'speck-that-holds': [
        'In der Fläche von {inks} {count, plural, one {ist ein klares Pünktchen} other {sind # klare Pünktchen}}, bis {value}.',
        'Bitte sagen Sie uns, ob {count, plural, one {es gewollt ist} other {sie gewollt sind}}.',
      ],
      'close-to-limit': [
        'In der Fläche von {inks} ist ein klares Pünktchen von etwa {value}.',
        'Bitte sagen Sie uns, ob es gewollt ist.',
      ],
    },
  },
};
