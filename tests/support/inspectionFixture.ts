import type { CheckResult, Finding, Limit, Place } from '../../src/findings/finding.ts';
import type { Verdict } from '../../src/findings/outcome.ts';
import type { Inspection } from '../../src/report/inspection.ts';
import type { Crop, ToneImage } from '../../src/report/pictures.ts';
import type { ReportJson, ReportPlate } from '../../src/report/reportJson.ts';
import { type Box, both, disc, either, paintTones, type Shape, stroke, wave, without } from './paintedTones.ts';

const film: Box = { xMm: 0, yMm: 0, widthMm: 300, heightMm: 352 };
const art: Shape = (x, y) => x > 14 && x < 286 && y > 14 && y < 338;
const sun = disc(150, 150, 84);
const sea = both(wave(190, 7, 64, 300), disc(150, 170, 128));
const rays = either(
  ...Array.from({ length: 24 }, (_, index) => {
    const angle = (index * Math.PI) / 12;
    const [c, s] = [Math.cos(angle), Math.sin(angle)];
    return stroke(150 + 94 * c, 150 + 94 * s, 150 + 124 * c, 150 + 124 * s, index % 3 === 0 ? 0.21 : 3);
  }),
);
const masts = either(stroke(120, 90, 120, 205, 2.4), stroke(120, 100, 168, 196, 0.3), stroke(120, 100, 84, 196, 0.28));
const sail: Shape = (x, y) => x > 123.5 && y > 108 && y < 196 && x - 123.5 < (y - 108) * 0.5;

const fourShapes: readonly (readonly [name: string, hex: string, shape: Shape])[] = [
  ['White base', '#f6f4ee', both(art, either(disc(150, 150, 83), sail))],
  ['Coral', '#f2694e', both(art, either(without(sun, either(sea, sail)), rays))],
  ['Lagoon', '#1f8a9e', both(art, sea)],
  ['Night', '#131c33', both(art, either(masts, both(wave(240, 5, 40, 252), sea), both(wave(268, 5, 32, 276), sea)))],
];

const twelveNames: readonly (readonly [string, string])[] = [
  ['White base', '#f6f4ee'],
  ['Lantern', '#f6b53c'],
  ['Coral', '#f2694e'],
  ['Rosehip', '#c9304e'],
  ['Plum', '#6d2c63'],
  ['Dusk', '#5a62a8'],
  ['Lagoon', '#1f8a9e'],
  ['Fern', '#3d8b50'],
  ['Meadow', '#9dbb3f'],
  ['Barley', '#d9b679'],
  ['Night', '#131c33'],
  ['Highlight white for the lantern strings and the band name', '#ffffff'],
];

export interface FixtureOptions {
  readonly variant?: 'usual' | 'ready' | 'lookFirst' | 'notRun';
  readonly inks?: 4 | 12;
  /** Puts markup and odd characters into every name that comes from files. */
  readonly hostile?: boolean;
}

export const hostileName = '<b>&"quote\'</b><script>alert(1)</script>\u0007\u202e';

const meshLimit: Limit = {
  value: 0.3125,
  unit: 'mm',
  from: 'mesh',
  rule: 'opening + 2 threads of mesh 43/cm with 80 µm thread',
  source: 'common practice, no source',
};
const shopLimit = (value: number, unit: Limit['unit'], rule: string): Limit => ({
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

const made = new Map<string, Inspection>();

/** An inspection as the program would hand it over, made of drawn shapes; no file is read. Drawn once for each kind. */
export function inspectionFixture(options: FixtureOptions = {}): Inspection {
  const key = JSON.stringify(options);
  const inspection = made.get(key) ?? makeInspection(options);
  made.set(key, inspection);
  return inspection;
}

function makeInspection(options: FixtureOptions): Inspection {
  const { variant = 'usual', inks: inkCount = 4, hostile = false } = options;
  const tag = (name: string) => (hostile ? `${name} ${hostileName}` : name);
  const shapes: (readonly [string, string, Shape])[] =
    inkCount === 4
      ? [...fourShapes]
      : twelveNames.map(([name, hex], index) => [name, hex, index === 0 ? sun : ring(index)] as const);
  const inks = shapes.map(([name, displayHex], index) => ({
    id: `i${index + 1}`,
    name: tag(name),
    kind: 'spot' as const,
    displayHex,
    printed: true,
  }));
  const tones = new Map<string, ToneImage>();
  const coverage: number[] = [];
  shapes.forEach(([, , shape], index) => {
    const image = previewOf(`${inkCount}-${index}`, shape);
    tones.set(`p${index + 1}`, image);
    coverage.push((100 * image.tones.reduce((sum, tone) => sum + tone, 0)) / (255 * image.tones.length));
  });
  const crops: Crop[] = [];
  const checks = checksFor(variant, (index) => inks[index].name, crops, shapes);
  const report: ReportJson = {
    schema: 'plateglass/report/1',
    version: '0.1.0',
    verdict: verdicts[variant],
    job: { name: tag('Midsummer tee'), ticketFile: variant === 'ready' ? 'midsummer.yaml' : null },
    ticket: {
      file: variant === 'ready' ? 'midsummer.yaml' : null,
      shopFile: null,
      garmentHex: '#1b2a41',
      fabric: 'cotton',
      print: { widthMm: 300, heightMm: 352, quantity: 72, location: 'front' },
      press: { heads: 6, registrationMm: 0.25, platenMm: [400, 450] },
      limits: {
        registrationMm: shopLimit(0.25, 'mm', 'what the press holds'),
        maxInks: shopLimit(6, 'count', 'heads'),
      },
      screens: inks.map(({ name }, index) => ({
        ink: name,
        role: index === 0 ? 'underbase' : 'colour',
        listed: variant === 'ready',
        mesh: {
          threadsPerCm: index === inks.length - 1 ? 77 : 43,
          threadsPerInch: index === inks.length - 1 ? 195.58 : 109.22,
          threadUm: index === inks.length - 1 ? 55 : 80,
          openingUm: index === inks.length - 1 ? 74.9 : 152.6,
          from: 'default',
        },
        limits: { minLineMm: meshLimit },
      })),
    },
    films: [
      {
        id: 'f1',
        file: tag('midsummer-tee.pdf'),
        sizeBytes: 184_220,
        sha256: '3b1f0c5d9a7e2468ace013579bdf02468ace13579bdf02468ace13579bdf0246',
        page: 1,
        format: 'pdf',
        nature: 'vector',
        widthMm: 300,
        heightMm: 352,
        scaleKnown: true,
        objectCount: 214,
        notes: [{ code: 'layer-off', message: `A layer that is switched off was left out: "${tag('notes')}".` }],
      },
    ],
    joined: [
      { code: 'one-composite', message: 'One file with named inks: one film an ink.', open: false },
      ...(variant === 'usual'
        ? [{ code: 'name-guess', message: 'Two inks are called Night; they were taken for one.', open: true }]
        : []),
    ],
    inks,
    plates: inks.map((ink, index) => plateFor(index, ink.id, coverage[index])),
    pairs: [],
    registration: null,
    checks,
    notLookedAt: [
      { title: 'Optical density of printed film', why: 'The films came as files; nothing was held to a light.' },
      { title: 'Ink, stencil and exposure', why: 'They cannot be seen in a film.' },
    ],
    plan: {
      order: planFor(
        inks.map(({ id, name }) => ({ id, name })),
        coverage,
      ),
      stationsNeeded: inks.length + 2,
      stationsOwned: 6,
      notes: ['Flash after the white base; let the shirt cool before the next colour.'],
      cautions: [
        'Flash units, dryers and fresh prints burn. Never leave a flash over a still platen.',
        'Never look at the exposure lamp; keep the lid closed and the interlocks working.',
        'Follow the ink and equipment makers’ data sheets, local codes and licensed practice. This report does not replace them.',
      ],
    },
    timings: { readMs: 210, drawMs: 640, measureMs: 1320, checkMs: 12 },
  };
  return { report, pictures: { plates: tones, crops } };
}

const verdicts: Readonly<Record<NonNullable<FixtureOptions['variant']>, Verdict>> = {
  usual: 'fail',
  ready: 'pass',
  lookFirst: 'needsReview',
  notRun: 'couldNotRun',
};

const previews = new Map<string, ToneImage>();

function previewOf(key: string, shape: Shape): ToneImage {
  let image = previews.get(key);
  if (!image) {
    image = paintTones(shape, film, 300);
    previews.set(key, image);
  }
  return image;
}

function ring(index: number): Shape {
  return without(disc(150, 176, 150 - index * 11), disc(150 + index, 176 + index * 2, 137 - index * 11));
}

function plateFor(index: number, inkId: string, coveragePercent: number): ReportPlate {
  return {
    id: `p${index + 1}`,
    inkId,
    filmId: 'f1',
    widthPx: 8504,
    heightPx: 9978,
    pitchMm: 0.0353,
    pitchYMm: 0.0353,
    verified: index !== 3,
    coveragePercent,
    minLineMm: index === 1 ? 0.21 : null,
    minGapMm: null,
    minDotMm: null,
    minIslandMm: null,
    detailPlusMinusMm: 0.02,
    detailSearchedToMm: 1,
    screenedPercent: 0,
    halftone: null,
    opacity: { semiOpaquePercent: 0, maxInkPercent: 100 },
    scan: null,
    marks: [],
  };
}

function planFor(inks: readonly { id: string; name: string }[], coverage: readonly number[]) {
  const steps: ReportJson['plan']['order'][number][] = [];
  inks.forEach((ink, index) => {
    steps.push({
      station: steps.length + 1,
      what: 'ink',
      inkId: ink.id,
      inkName: ink.name,
      role: index === 0 ? 'underbase' : 'colour',
      mesh: index === inks.length - 1 ? '77/cm' : '43/cm',
      coveragePercent: coverage[index],
      why: index === 0 ? 'the base goes down first' : 'lighter inks before darker ones',
    });
    if (index === 0) {
      steps.push({ ...blank, station: 2, what: 'flash', why: 'the base must be dry to the touch' });
      steps.push({ ...blank, station: 3, what: 'coolDown', why: 'a hot base picks up the next ink' });
    }
  });
  return steps;
}

const blank = { inkId: null, inkName: null, role: null, mesh: null, coveragePercent: null } as const;

type InkName = (index: number) => string;

function checksFor(
  variant: NonNullable<FixtureOptions['variant']>,
  ink: InkName,
  crops: Crop[],
  shapes: readonly (readonly [string, string, Shape])[],
): CheckResult[] {
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
      if (inkCountOf(shapes) === 4) crops.push(cropOf('thin-line', at, thin[at], [['p2', shapes[1][2]]]));
      else crops.push(cropOf('thin-line', at, thin[at], [['p2', rays]]));
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

function inkCountOf(shapes: readonly unknown[]): number {
  return shapes.length;
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
