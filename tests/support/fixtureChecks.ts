import type { CheckResult, Finding, Limit, Place } from '../../src/findings/finding.ts';
import type { Crop } from '../../src/report/pictures.ts';
import { rays } from './fixtureArt.ts';
import { paintTones, type Shape } from './paintedTones.ts';

export const meshLimit: Limit = {
  value: 0.3125,
  unit: 'mm',
  from: 'mesh',
  rule: 'opening + 2 threads of mesh 43/cm with 80 µm thread',
  source: 'common practice, no source',
};
export const shopLimit = (value: number, unit: Limit['unit'], rule: string): Limit => ({
  value,
  unit,
  from: 'default',
  rule,
  source: 'common practice, no source',
});
const ticketLimit = (value: number, unit: Limit['unit'], rule: string): Limit => ({
  value,
  unit,
  from: 'ticket',
  rule,
  source: 'your ticket',
});

export type Variant = 'usual' | 'ready' | 'lookFirst' | 'notRun';

export type InkName = (index: number) => string;

/** The checks of a variant; crops of the places are added to `crops`. */
export function checksFor(variant: Variant, ink: InkName, crops: Crop[]): CheckResult[] {
  const failing = variant === 'usual';
  const looking = variant === 'usual' || variant === 'lookFirst';
  const thin = raysAt().map(([xMm, yMm]) => place(xMm - 1.2, yMm - 0.105, 2.4, 0.21, 0.21));
  const trap = Array.from({ length: 9 }, (_, index) => {
    const xMm = 70 + index * 18;
    const yMm = 190.04 + 7 * Math.sin((2 * Math.PI * (xMm + 2)) / 64);
    return { ...place(xMm, yMm - 0.6, 4, 1.2, 0.08), focusXMm: xMm + 2, focusYMm: yMm };
  });
  const checks: CheckResult[] = [];
  if (variant === 'notRun') {
    checks.push({
      ...check('thin-gap', 'Gaps are wide enough for the mesh', 'couldNotRun'),
      why: 'The plate of Coral ran out of memory while it was measured.',
    });
  }
  if (failing) {
    checks.push({
      ...check('thin-line', 'Lines are too thin for the mesh', 'fail', 412),
      findings: [
        finding('beyond', 'fail', [1], ink, [0.21, 'mm', 0.02], meshLimit, thin, 17, {
          customer:
            'Lines thinner than 0.31 mm (0.9 pt) will break up on the shirt. Please thicken the ones marked, or let us do it.',
          printer: 'Thicken these lines, or print Coral through 77/cm (needs 0.18 mm).',
        }),
      ],
    });
    checks.push({
      ...check('short-trap', 'Colours overlap too little', 'fail', 36),
      findings: [
        finding('beyond', 'fail', [1, 2], ink, [0.08, 'mm', 0.01], shopLimit(0.25, 'mm', 'trap of the shop'), trap, 9, {
          customer:
            'Where two colours touch we need an overlap of 0.25 mm. May we add it? Edges move by less than a hair.',
          printer: 'Spread Coral by 0.17 mm under Lagoon.',
        }),
      ],
    });
    checks.push({
      ...check('extra-ink', 'There are more inks than the press has heads', 'fail', 1),
      findings: [
        finding('beyond', 'fail', [], ink, [7, 'count', 0], ticketLimit(6, 'count', 'heads of the press'), [], 0, {
          customer: 'This design uses 7 inks; the press holds 6. Could two of them become one?',
          printer: 'Join two inks, or print on the press with more heads.',
        }),
      ],
    });
    for (const at of [0, 1, 2]) {
      crops.push(cropOf('thin-line', at, thin[at], [['p2', rays]]));
      const edge =
        (offset: number): Shape =>
        (px, py) =>
          py < 190 + 7 * Math.sin((2 * Math.PI * px) / 64) + offset;
      crops.push(
        cropOf('short-trap', at, trap[at], [
          ['p2', edge(0.08)],
          ['p3', (px, py) => !edge(0)(px, py)],
        ]),
      );
    }
  }
  if (looking) {
    checks.push({
      ...check('live-type', 'Type is not turned into outlines', 'needsReview', 2),
      findings: [
        {
          ...finding(
            'not-embedded',
            'needsReview',
            [3],
            ink,
            null,
            null,
            [place(60, 310, 80, 9, 1), place(160, 310, 74, 9, 1)],
            2,
            {
              customer: 'Please turn type into outlines, or attach the font.',
              printer: 'The font is not in the file: what prints is not certain. Ask for outlines.',
            },
          ),
          details: ['“Midsummer”', '“Festival of lights”'],
        },
      ],
    });
    checks.push({
      ...check('small-type', 'Type is too small to stay readable', 'needsReview', 5),
      findings: [
        finding(
          'close',
          'needsReview',
          [3],
          ink,
          [8.1, 'pt', 0.2],
          shopLimit(8, 'pt', 'smallest type of the shop'),
          [place(180, 322, 40, 3, 8.1)],
          1,
          {
            customer: 'Type under 8 pt will not stay readable on cloth. Enlarge it or drop it.',
            printer: 'Measure the x-height under the loupe here before filming.',
          },
        ),
      ],
    });
  } else {
    checks.push(fine('thin-line', 'Lines hold on the mesh', ink(1), 0.42, 'mm', 0.02, meshLimit, 412));
  }
  checks.push(
    fine(
      'small-dot',
      'Dots hold on the mesh',
      ink(1),
      0.62,
      'mm',
      0.02,
      shopLimit(0.4, 'mm', 'smallest dot of the shop'),
      41,
    ),
    fine('coarse-image', 'Pictures are fine enough', ink(2), 312, 'ppi', 0, shopLimit(200, 'ppi', 'picture ruling'), 2),
    fine(
      'semi-opaque-positive',
      'Films are black where they print',
      ink(0),
      0.2,
      'percent',
      0.1,
      shopLimit(0.5, 'percent', 'half tones'),
      4,
    ),
    fine(
      'misaligned-film',
      'Films lie on each other',
      `${ink(1)} / ${ink(2)}`,
      0.02,
      'mm',
      0.01,
      shopLimit(0.25, 'mm', 'what the press holds'),
      3,
    ),
    fine(
      'near-duplicate-ink',
      'Inks can be told apart',
      `${ink(1)} / ${ink(2)}`,
      48.2,
      'deltaE',
      0,
      shopLimit(5, 'deltaE', 'two inks or one'),
      6,
    ),
    fine('oversize-art', 'The art fits the print area', '', 300, 'mm', 0.1, ticketLimit(305, 'mm', 'print width'), 1),
    fine(
      'missing-registration-mark',
      'Every film has its marks',
      ink(3),
      4,
      'count',
      0,
      shopLimit(2, 'count', 'marks a film'),
      4,
    ),
    {
      ...check('mesh-moire', 'Ruling and mesh do not beat', 'notApplicable'),
      why: 'There is no halftone in this job.',
    },
    { ...check('tone-out-of-range', 'Tints hold', 'notApplicable'), why: 'There are no tints in this job.' },
  );
  return checks;
}

function raysAt(): [number, number][] {
  return Array.from({ length: 8 }, (_, index) => {
    const angle = (index * Math.PI) / 4;
    return [150 + 109 * Math.cos(angle), 150 + 109 * Math.sin(angle)];
  });
}

const worseIsMore = new Set(['extra-ink', 'semi-opaque-positive', 'misaligned-film', 'oversize-art']);

function check(id: string, title: string, outcome: CheckResult['outcome'], readingsTotal = 0): CheckResult {
  return {
    id,
    title,
    asks: `${title}?`,
    outcome,
    why: null,
    findings: [],
    tightest: null,
    worse: worseIsMore.has(id) ? 'more' : 'less',
    readingsTotal,
    sources: ['common practice, no source'],
  };
}

function fine(
  id: string,
  title: string,
  inkName: string,
  value: number,
  unit: Limit['unit'],
  plusMinus: number,
  limit: Limit,
  readingsTotal: number,
): CheckResult {
  const inkNames = inkName === '' ? [] : inkName.split(' / ');
  return { ...check(id, title, 'pass', readingsTotal), tightest: { inkNames, value, unit, plusMinus, limit } };
}

function finding(
  code: string,
  outcome: Finding['outcome'],
  plates: readonly number[],
  ink: InkName,
  measured: readonly [number, Limit['unit'], number] | null,
  limit: Limit | null,
  places: readonly Place[],
  placesTotal: number,
  advice: Finding['advice'],
): Finding {
  return {
    code,
    outcome,
    plateIds: plates.map((index) => `p${index + 1}`),
    inkNames: plates.map(ink),
    measured: measured ? { value: measured[0], unit: measured[1], plusMinus: measured[2] } : null,
    limit,
    places,
    placesTotal,
    details: [],
    advice,
  };
}

function place(xMm: number, yMm: number, widthMm: number, heightMm: number, value: number): Place {
  return { filmId: 'f1', xMm, yMm, widthMm, heightMm, value };
}

function cropOf(checkId: string, placeIndex: number, at: Place, plates: readonly (readonly [string, Shape])[]): Crop {
  const xMm = at.xMm + at.widthMm / 2 - 1.5;
  const yMm = at.yMm + at.heightMm / 2 - 1.5;
  const box = { xMm, yMm, widthMm: 3, heightMm: 3 };
  const layers = plates.map(([plateId, shape]) => ({ plateId, image: paintTones(shape, box, 85) }));
  return { checkId, findingIndex: 0, placeIndex, filmId: 'f1', xMm, yMm, layers };
}
