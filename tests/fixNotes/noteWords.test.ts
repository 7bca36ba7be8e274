import { IntlMessageFormat } from 'intl-messageformat';
import { describe, expect, it } from 'vitest';
import { checks } from '../../src/checks/index.ts';
import { lengthIn, quantityIn } from '../../src/fixNotes/noteQuantities.ts';
import { phraseProblems } from '../../src/fixNotes/shopPhrases.ts';
import type { Catalogue, FindingWords } from '../../src/fixNotes/words/catalogue.ts';
import { catalogues, noteLanguages, printerWords, wordsIn } from '../../src/fixNotes/words/wordsIn.ts';

const strings = ['inks', 'ink', 'other', 'names', 'value', 'limit', 'safe', 'short'];
const numbers = ['count', 'many', 'number', 'most'];
const values = (n: number) => ({
  ...Object.fromEntries(strings.map((name) => [name, `<${name}>`])),
  ...Object.fromEntries(numbers.map((name) => [name, n])),
});

/** Filled in for one and for several; throws for what is no message or asks for a value there is not. */
function bothForms(message: string, language: string): string[] {
  return [1, 5].map((n) =>
    String(new IntlMessageFormat(message, language, undefined, { ignoreTag: true }).format(values(n))),
  );
}

describe.each(noteLanguages)('the words of notes in %s', (language) => {
  const catalogue: Catalogue = catalogues[language];
  const findings = catalogue.findings as Readonly<Record<string, FindingWords>>;

  it('have a defect, an effect, a request and an offer for every code of every check, and advice for the printer', () => {
    const missing: string[] = [];
    for (const check of checks) {
      const words = findings[check.id];
      if (words === undefined || !(words.offer in catalogue.offers) || words.effect.trim() === '')
        missing.push(check.id);
      for (const code of Object.keys(check.advice)) {
        const name = `${check.id}/${code}`;
        const customer = words?.codes[code] ?? [];
        const inHouse = printerWords[language] as Readonly<Record<string, Readonly<Record<string, string>>>> | null;
        // English is the language of the checks themselves.
        const printer = inHouse === null ? String(check.advice[code].printer) : inHouse[check.id]?.[code];
        for (const message of [...customer, ...(inHouse === null ? [] : [printer ?? ''])])
          for (const said of bothForms(message, language)) if (said.trim().length < 8) missing.push(`${name}: ${said}`);
        if (customer.length !== 2 || !printer) missing.push(name);
      }
    }
    expect(missing).toEqual([]);
    expect(Object.keys(findings).sort()).toEqual(checks.map(({ id }) => id).sort());
  });

  it('blame nobody and give no orders', () => {
    const all = Object.values(findings).flatMap(({ effect, codes }) => [effect, ...Object.values(codes).flat()]);
    const blame =
      /\b(?:your (?:mistake|fault|error)|you (?:forgot|failed)|wrongly|Ihr Fehler|Sie haben vergessen|su (?:error|culpa)|usted olvid)/i;
    expect(all.filter((words) => blame.test(words))).toEqual([]);
    const polite = /please|bitte|por favor|may we|podemos/i;
    const requests = Object.values(findings).flatMap(({ codes }) => Object.values(codes).map(([, request]) => request));
    expect(requests.filter((request) => !polite.test(request))).toEqual(
      requests.filter((request) => /^(?:If they must|Sollen sie|Si deben)/.test(request) && !polite.test(request)),
    );
  });
});

describe('quantities in a note', () => {
  const [en, de] = [wordsIn('en'), wordsIn('de')];

  it('are written as the language does, and as the customer prefers', () => {
    expect(lengthIn(de, 'mm', 0.214)).toBe('0,21\u00a0mm');
    // 0.21 mm is 0.5953 points of 1/72 in; 300 mm are 11.811 in.
    expect(lengthIn(en, 'inch', 0.21)).toBe('0.6\u00a0pt (0.21\u00a0mm)');
    expect(lengthIn(en, 'inch', 300)).toBe('11.81\u00a0in (300.0\u00a0mm)');
    expect(quantityIn(de, 'mm', 6.5, 'pt')).toBe('6,5\u00a0pt');
    expect(quantityIn(en, 'mm', 4.26, 'percent')).toBe('4.3\u00a0%');
  });

  it('that are asked for are enough when they are rounded', () => {
    expect(lengthIn(en, 'mm', 0.3126, 'up')).toBe('0.32\u00a0mm');
    expect(lengthIn(en, 'mm', 0.3174, 'down')).toBe('0.31\u00a0mm');
    expect(lengthIn(en, 'mm', 0.35, 'up')).toBe('0.35\u00a0mm');
    expect(lengthIn(en, 'mm', 0.1 + 0.2, 'up')).toBe('0.30\u00a0mm');
  });
});

it('phrases of the shop that are no messages, or ask for what is not there, are named', () => {
  expect(
    phraseProblems({
      greeting: 'Dear {customer},',
      thanks: { de: 'Bis in {days, plural, one {# Tag} other {# Tagen}}' },
    }),
  ).toEqual([]);
  const problems = phraseProblems({ greeting: 'Dear {custmer},', price: { es: 'desde {price' } });
  expect(problems).toHaveLength(2);
  expect(problems[0]).toMatch(/^note\.greeting: .*custmer/);
  expect(problems[1]).toMatch(/^note\.price: /);
});
