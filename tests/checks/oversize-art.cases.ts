import type { ArtObject } from '../../src/artwork/artObject.ts';
import type { BoxMm } from '../../src/geometry/box.ts';
import { askOf, boxAt, markAt, marksOf, objectOf } from '../support/askFixture.ts';
import type { CheckCases } from '../support/checkTester.ts';

const ticket = { print: { widthMm: 260, heightMm: 320 } };
const marks = [marksOf('Coral', [markAt(150, 18)])];

function inked(widthMm: number, heightMm: number) {
  return { ink: 'Coral', opacity: { inkedBoxMm: boxAt(10, 10, widthMm, heightMm) } };
}

const missing = 'A pattern could not be drawn.';

/** Art of 200 × 300 mm on a film, with a pattern that could not be drawn. */
function undrawn(widthMm: number, note: { boxMm?: BoxMm; objectId?: string }, objects: readonly ArtObject[] = []) {
  const notes = [{ code: 'pattern', message: missing, affects: 'plate', ...note } as const];
  return askOf({
    ticket,
    films: [{ widthMm, heightMm: 320, notes, objects }],
    plates: [{ ...inked(200, 300), doubts: [missing] }],
  });
}

const type = objectOf({
  id: 'o1',
  kind: 'text',
  boxMm: boxAt(20, 20, 60, 12),
  text: { fontName: 'Festival Sans', sizePt: 30, embedded: false, resolved: false, excerpt: 'Village festival' },
});

export const cases: CheckCases = {
  rows: [
    {
      name: 'a part that could not be drawn, on a film no larger than ordered',
      ask: undrawn(260, {}),
      outcome: 'pass',
      readings: 1,
      tightest: -20,
    },
    {
      name: 'a part that could not be drawn, anywhere on a larger film',
      ask: undrawn(300, {}),
      outcome: 'needsReview',
      readings: 1,
      findings: [{ code: 'not-verified', value: -20, places: 1, details: [missing] }],
    },
    {
      name: 'a part that could not be drawn inside the art',
      ask: undrawn(300, { boxMm: boxAt(20, 20, 180, 20) }),
      outcome: 'pass',
      readings: 1,
      tightest: -20,
    },
    {
      name: 'a part that could not be drawn and reaches far out of the art',
      ask: undrawn(300, { boxMm: boxAt(20, 20, 270, 20) }),
      outcome: 'needsReview',
      readings: 1,
      findings: [{ code: 'not-verified', value: -20, places: 1 }],
    },
    {
      name: 'type inside the art that may be longer in its own font',
      ask: undrawn(300, { boxMm: boxAt(20, 20, 60, 12), objectId: 'o1' }, [type]),
      outcome: 'needsReview',
      readings: 1,
      findings: [{ code: 'not-verified', value: -20, places: 1 }],
    },
    {
      name: 'as ordered',
      ask: askOf({ ticket, plates: [inked(260, 320)] }),
      outcome: 'pass',
      readings: 1,
      tightest: 0,
    },
    {
      name: 'over by just less than the tolerance',
      ask: askOf({ ticket, plates: [inked(260.478, 320)] }),
      outcome: 'pass',
      readings: 1,
      tightest: 0.478,
      at: 'just under',
    },
    {
      name: 'over by the tolerance, give or take a pixel',
      ask: askOf({ ticket, plates: [inked(260, 320.5)] }),
      outcome: 'needsReview',
      readings: 1,
      at: 'at',
      findings: [{ code: 'close-to-limit', value: 0.5, plusMinus: 0.02, places: 1 }],
    },
    {
      name: 'over by just more than the tolerance',
      ask: askOf({ ticket, plates: [inked(260.522, 100)] }),
      outcome: 'fail',
      readings: 1,
      at: 'just over',
      findings: [
        {
          code: 'larger-than-ordered',
          value: 0.522,
          places: 1,
          boxMm: [10, 10, 260.522, 100],
          details: ['260.5 mm × 100.0 mm, ordered 260 × 320 mm'],
        },
      ],
    },
    {
      name: 'too large on a film of unknown size',
      ask: askOf({ ticket, films: [{ scaleKnown: false }], plates: [inked(280, 320)] }),
      outcome: 'needsReview',
      readings: 1,
      findings: [{ code: 'larger-than-ordered', value: 20, places: 1 }],
    },
    {
      name: 'marks outside the art do not count, hidden objects neither',
      ask: askOf({
        ticket,
        plates: [inked(280, 340)],
        marks,
        films: [
          {
            objects: [
              objectOf({ id: 'art', boxMm: boxAt(20, 30, 255, 300) }),
              objectOf({ id: 'mark', boxMm: boxAt(146, 14, 8, 8) }),
              objectOf({ id: 'off', boxMm: boxAt(10, 10, 280, 340), hidden: 'layerOff' }),
              objectOf({ id: 'paper', boxMm: boxAt(10, 10, 280, 340), isWhite: true, inks: [] }),
              objectOf({ id: 'cross', boxMm: boxAt(10, 10, 280, 340), inks: [{ key: 'All', tintRatio: 1 }] }),
            ],
            inks: [{ key: 'All', name: 'All', kind: 'registration', displayHex: '#000000', used: true }],
          },
        ],
      }),
      outcome: 'pass',
      readings: 1,
      tightest: -5,
    },
    {
      name: 'marks that cannot be told from the art leave it open',
      ask: askOf({ ticket, plates: [inked(280, 340)], marks, films: [{ nature: 'bitmap' }] }),
      outcome: 'needsReview',
      readings: 1,
      findings: [
        {
          code: 'larger-than-ordered',
          value: 20,
          places: 1,
          details: ['280.0 mm × 340.0 mm, ordered 260 × 320 mm', 'The size includes the registration marks.'],
        },
      ],
    },
    {
      name: 'marks that cannot be told from the art but fit with it',
      ask: askOf({ ticket, plates: [inked(200, 300)], marks, films: [{ nature: 'bitmap' }] }),
      outcome: 'pass',
      readings: 1,
      tightest: -20,
    },
    { name: 'no size ordered', ask: askOf(), outcome: 'notApplicable', readings: 0, why: /no print size/ },
    {
      name: 'a clear film',
      ask: askOf({ ticket, plates: [{ ink: 'Coral', opacity: { inkedBoxMm: null } }] }),
      outcome: 'notApplicable',
      readings: 0,
      why: /no black/,
    },

    {
      name: 'each film by its own art',
      ask: askOf({
        ticket,
        inks: ['Coral', 'Night'],
        films: [{}, { file: 'night.pdf' }],
        plates: [inked(200, 300), { ink: 'Night', filmId: 'f2', opacity: { inkedBoxMm: boxAt(5, 5, 263, 300) } }],
      }),
      outcome: 'fail',
      readings: 2,
      findings: [{ code: 'larger-than-ordered', value: 3, inks: ['Night'], places: 1, boxMm: [5, 5, 263, 300] }],
    },
  ],
};
