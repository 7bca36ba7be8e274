import type { Verdict } from '../../src/findings/outcome.ts';
import type { Inspection } from '../../src/report/inspection.ts';
import type { Crop, ToneImage } from '../../src/report/pictures.ts';
import type { ReportJson, ReportPlate } from '../../src/report/reportJson.ts';
import { film, fourShapes, ring, sun, twelveNames } from './fixtureArt.ts';
import { checksFor, meshLimit, shopLimit, type Variant } from './fixtureChecks.ts';
import { meetingsFixture } from './fixtureMeetings.ts';
import { paintTones, type Shape } from './paintedTones.ts';

export interface FixtureOptions {
  readonly variant?: Variant;
  readonly inks?: 4 | 12;
  /** Puts markup and odd characters into every name that comes from files. */
  readonly hostile?: boolean;
}

export const hostileName = '<b>&"quote\'</b><script>alert(1)</script>\u0007\u202e';

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
  const checks = checksFor(variant, (index) => inks[index].name, crops);
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
        limits: {
          minLineMm: meshLimit,
          trapMm: shopLimit(0.25, 'mm', 'trap of the shop'),
          chokeMm: shopLimit(0.25, 'mm', 'choke of the shop'),
        },
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
    ...meetingsFixture(inks.map((_, index) => `p${index + 1}`)),
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

const verdicts: Readonly<Record<Variant, Verdict>> = {
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
    meshBeats: [],
    halftone: null,
    halftoneUnclassified: [],
    opacity: { semiOpaquePercent: 0, maxInkPercent: 100 },
    scan: null,
    marks: [],
    missingMarks: [],
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
