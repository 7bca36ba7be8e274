import { askOf, objectOf } from '../support/askFixture.ts';
import type { CheckCases } from '../support/checkTester.ts';

function text(id: string, embedded: boolean, resolved: boolean, more = {}) {
  return objectOf({
    id,
    kind: 'text',
    text: { fontName: 'Festival Sans', sizePt: 12, embedded, resolved, excerpt: 'Midsummer' },
    ...more,
  });
}

export const cases: CheckCases = {
  zeroLimit: true,
  rows: [
    {
      name: 'a font in the file',
      ask: askOf({ films: [{ objects: [text('a', true, true)] }] }),
      outcome: 'pass',
      readings: 1,
      tightest: 0,
      at: 'at',
    },
    {
      name: 'a font that was found but is not in the file',
      ask: askOf({ films: [{ objects: [text('a', false, true), text('b', true, true)] }] }),
      outcome: 'needsReview',
      readings: 2,
      at: 'just over',
      findings: [
        {
          code: 'font-not-embedded',
          value: 1,
          inks: ['Coral'],
          places: 1,
          details: ['“Midsummer” in Festival Sans: font not in the file'],
        },
      ],
    },
    {
      name: 'a font that was replaced',
      ask: askOf({ films: [{ objects: [text('a', false, false), text('b', false, false)] }] }),
      outcome: 'fail',
      readings: 2,
      findings: [
        {
          code: 'font-replaced',
          value: 1,
          places: 2,
          boxMm: [50, 50, 40, 40],
          details: ['“Midsummer” in Festival Sans: drawn in another font'],
        },
      ],
    },
    {
      name: 'outlined type',
      ask: askOf({ films: [{ objects: [objectOf({ id: 'a' })] }] }),
      outcome: 'notApplicable',
      readings: 0,
      why: /no live type/,
    },
    {
      name: 'type nobody sees',
      ask: askOf({ films: [{ objects: [text('a', false, false, { hidden: 'layerOff' })] }] }),
      outcome: 'notApplicable',
      readings: 0,
      why: /no live type/,
    },
  ],
};
