import type { Catalogue } from './catalogue.ts';
import { deFiles } from './deFiles.ts';
import { dePrint } from './dePrint.ts';

export const de: Catalogue = {
  frame: {
    subject: 'Ihre Vorlage {job}: {count, plural, =0 {nichts zu tun} one {eine Frage} other {# Fragen}}',
    greeting: 'Guten Tag{customer, select, none {} other { {customer}}},',
    opening:
      'vielen Dank für Ihre Vorlage. Bevor wir Filme machen, haben wir {files, plural, one {Ihre Datei} other {Ihre # Dateien}} angesehen ({size}).',
    ready: 'Sie kann so belichtet werden. Von Ihnen wird nichts gebraucht.',
    nothing: 'Von Ihnen wird bisher nichts gebraucht; den Rest klären wir hier.',
    notChecked: 'Sie ist noch nicht zu Ende geprüft. Wir melden uns; bis dahin wird nichts gebraucht.',
    change: 'Bitte ändern',
    tell: 'Bitte sagen Sie uns',
    places:
      '{count, plural, one {Die Stelle liegt {left} von links und {top} von oben in {file}.} other {Es sind # Stellen; die schlechteste liegt {left} von links und {top} von oben in {file}.}}',
    page: '{file}, Seite {page}',
    picture: 'Ausschnitt der Vorlage, {width} breit; der Ring zeigt die Stelle: {left} von links, {top} von oben.',
    more: 'Dazu {count, plural, one {eine weitere Frage} other {# weitere Fragen}} dieser Art; der Bericht nennt alle.',
    ours: '{count, plural, one {Ein weiterer Punkt ist} other {# weitere Punkte sind}} unsere Sache; dafür wird von Ihnen nichts gebraucht.',
    answer: 'Bitte antworten Sie nach Nummern: eine neue Datei, „ja“ zu unserem Angebot oder „so drucken, wie es ist“.',
    unchanged: 'Ändert sich nichts, wird wie oben beschrieben gedruckt.',
    by: 'Bitte geben Sie uns bis {date} Bescheid, damit der Auftrag an der Reihe bleibt.',
    noDate: 'Wir machen die Filme, sobald Ihre Antwort da ist.',
    thanks: 'Vielen Dank.',
    sizes: 'von verschiedener Größe',
    noSize: 'ohne bekannte Größe',
    list: '{first} und {last}',
    others: '{count} weitere',
  },
  offers: {
    change: 'Oder dürfen wir es für Sie ändern?',
    add: 'Oder dürfen wir das für Sie tun?',
    asIs: 'Oder dürfen wir es so drucken, wie es ist?',
    leaveOut: 'Oder dürfen wir es weglassen?',
    merge: 'Oder dürfen wir für Sie wählen?',
  },
  general: {
    'not-verified': {
      defect: 'Ein Teil Ihrer Datei ließ sich nicht sicher zeichnen{names, select, none {} other { ({names})}}.',
      effect: 'Was dort gedruckt wird, kann von dem abweichen, was Sie sehen.',
      request: 'Bitte sagen Sie uns, ob es so stimmt, oder senden Sie die Originaldatei.',
      offer: 'asIs',
    },
    'not-measured': {
      defect: 'Ein Teil von {inks} ließ sich nicht messen.',
      effect: 'Wie er gedruckt wird, lässt sich noch nicht sagen.',
      request: 'Bitte senden Sie das Original oder eine Vektordatei.',
      offer: 'asIs',
    },
    'in-doubt': {
      defect: 'Ein Teil von {inks} ließ sich nicht genau genug messen.',
      effect: 'Er kann anders gedruckt werden, als Sie ihn sehen.',
      request: 'Bitte senden Sie das Original oder eine Vektordatei.',
      offer: 'asIs',
    },
    'open-join': {
      defect: 'Wie Ihre Dateien zusammengehören, ist nicht sicher.',
      effect: 'Ein Film könnte für die falsche Farbe oder doppelt gemacht werden.',
      request: 'Bitte sagen Sie uns, welche Datei zu welcher Farbe gehört.',
      offer: 'merge',
    },
  },
  findings: { ...deFiles, ...dePrint },
};
