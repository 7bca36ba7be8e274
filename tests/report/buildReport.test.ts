import { describe, expect, it } from 'vitest';
import type { Ask, PlateFacts } from '../../src/checks/ask.ts';
import type { CheckResult, Limit } from '../../src/findings/finding.ts';
import type { HalftoneRegion } from '../../src/measurements/halftone.ts';
import { buildReport, type ReportInput } from '../../src/report/buildReport.ts';
import { halftoneRegionOf } from '../support/askFixture.ts';

const limit: Limit = {
  value: 0.3125,
  unit: 'mm',
  from: 'mesh',
  rule: 'opening + 2 threads',
  source: 'common practice, no source',
};
const sourced = <T>(value: T) => ({ value, from: 'default' as const });

function frameOf(inkName: string) {
  const mesh = { threadsPerCm: 43, threadUm: 80, openingUm: 152.558, openingFrom: 'formula', weave: 'plain' } as const;
  return {
    inkName,
    file: null,
    role: sourced('colour'),
    mesh: sourced(mesh),
    limits: { minLineMm: limit },
    listed: false,
  };
}

function askOf(changes: { open?: boolean; minLineMm?: number; regions?: readonly HalftoneRegion[] } = {}): Ask {
  const ink = {
    id: 'i1',
    name: 'Coral',
    nameFrom: 'file',
    kind: 'spot',
    displayHex: '#f2694e',
    printed: true,
  } as const;
  const film = {
    id: 'f1',
    file: 'tee.pdf',
    page: 1,
    format: 'pdf',
    nature: 'vector',
    widthMm: 300,
    heightMm: 352.00004,
    scaleKnown: true,
    objects: [],
    notes: [{ code: 'layer-off', message: 'A layer is off.', affects: 'nothing' }],
  };
  const plate = {
    id: 'p1',
    ink,
    film,
    inkKey: 'Coral',
    grid: { widthPx: 8504, heightPx: 9978, pitchXMm: 25.4 / 720, pitchYMm: 25.4 / 720 },
    verified: true,
    doubts: [],
    detail: {
      searchedToMm: 1,
      plusMinusMm: 0.0176389,
      minLineMm: changes.minLineMm ?? 0.21000001,
      minGapMm: null,
      minDotMm: null,
      minIslandMm: null,
      screened: { sharePercent: 0, boxesMm: [], areasMm2: [], innerAreasMm2: [], spotCount: 0 },
    },
    opacity: { coveragePercent: 16.123456, semiOpaquePercent: 0, maxInkPercent: 100 },
    halftone: { regions: changes.regions ?? [], unclassified: [] },
  } as unknown as PlateFacts;
  return {
    ticket: {
      job: null,
      ticketFile: null,
      shopFile: null,
      garment: { colourHex: sourced('#1b2a41'), fabric: sourced('cotton') },
      print: { widthMm: null, heightMm: null, quantity: null, location: null },
      press: {
        heads: sourced(6),
        registrationMm: sourced(0.25),
        platenMm: sourced([400, 450]),
        flashStations: sourced(1),
      },
      limits: { registrationMm: limit, maxInks: limit },
      frames: [],
      meshes: [],
      screens: [],
      screenFor: frameOf,
    },
    artwork: {
      name: 'tee',
      films: [film],
      inks: [ink],
      plateSources: [],
      joinNotes: [{ code: 'one-file', message: 'One file.', open: changes.open ?? false }],
    },
    plates: [plate],
    overlaps: [],
    underbase: null,
    marks: [
      {
        plateId: 'p1',
        marks: [{ kind: 'crosshair', xMm: 10.00004, yMm: 12, plusMinusMm: 0.01, lineWeightMm: 0.1, sizeMm: 5 }],
        unconfirmed: [],
        missing: [],
      },
    ],
    registration: {
      referencePlateId: 'p1',
      plates: [
        {
          plateId: 'p2',
          marksUsed: 4,
          dxMm: -0.00001,
          dyMm: 0.12345,
          rotationDeg: 0.0123456,
          scale: 1.0001234,
          residualMm: null,
        },
      ],
    },
  } as unknown as Ask;
}

const check = (outcome: CheckResult['outcome']): CheckResult => ({
  id: 'thin-line',
  title: 'Lines hold',
  asks: 'Do the lines hold?',
  outcome,
  why: null,
  findings: [],
  tightest: null,
  readingsTotal: 1,
  sources: [],
});

const inputOf = (changes: Partial<ReportInput> = {}): ReportInput => ({
  version: '0.1.0',
  ask: askOf(),
  checks: [check('pass')],
  plan: { order: [], stationsNeeded: 1, stationsOwned: 6, notes: [], cautions: [] },
  sourceFiles: [{ name: 'tee.pdf', sizeBytes: 123, sha256: 'ab' }],
  notLookedAt: [],
  timings: { readMs: 12 },
  ...changes,
});

describe('the report JSON', () => {
  it('rounds lengths to a tenth of a micrometre and scales to a millionth', () => {
    const report = buildReport(inputOf());
    expect(report.plates[0].minLineMm).toBe(0.21);
    expect(report.plates[0].pitchMm).toBe(0.0353);
    expect(report.plates[0].coveragePercent).toBe(16.1235);
    expect(report.films[0].heightMm).toBe(352);
    expect(report.plates[0].marks).toEqual([
      expect.objectContaining({ kind: 'crosshair', xMm: 10, yMm: 12, plusMinusMm: 0.01, insidePrint: null }),
    ]);
    expect(report.registration!.plates[0]).toMatchObject({ dyMm: 0.1235, scale: 1.000123, rotationDeg: 0.012346 });
    expect(Object.is(report.registration!.plates[0].dxMm, 0)).toBe(true);
  });

  it('tells what halftones make with their mesh, seen or not', () => {
    expect(buildReport(inputOf()).plates[0].meshBeats).toEqual([]);
    const regions = [
      halftoneRegionOf({ kind: 'pattern' }),
      // Lines of 2 · 43/cm over 3: third harmonic and twice the threads repeat alike.
      halftoneRegionOf({ rulingLpi: (86 / 3) * 2.54, angleDeg: 0, dotShape: 'line', dotShapeClass: 'line' }),
    ];
    const [told, ...others] = buildReport(inputOf({ ask: askOf({ regions }) })).plates[0].meshBeats;
    expect(others).toEqual([]);
    expect(told).toMatchObject({ region: 1, meshRatio: 1.5 });
    // 0.312558 mm of a period of 0.348837 mm.
    expect(told.heldTonesPercent[0]).toBeCloseTo(89.6, 1);
    expect(told.beats.length).toBeGreaterThan(0);
    const alike = told.beats.find(({ rulingOrder }) => rulingOrder[1] === 3)!;
    expect(alike).toMatchObject({ meshOrder: [0, 2], periodMm: null });
  });

  it('tells what dots may gain until their holes close, and until the mesh no longer holds them', () => {
    expect(buildReport(inputOf()).plates[0].gainHeadroom).toEqual([]);
    const lines = { dotShape: 'line', dotShapeClass: 'line', rulingLpi: 25.4, toneMaxPercent: 60 } as const;
    const regions = [halftoneRegionOf({ kind: 'pattern' }), halftoneRegionOf(lines)];
    // Of lines 1 mm apart 0.4 mm is clear, of which the mesh holds 0.312558 mm.
    expect(buildReport(inputOf({ ask: askOf({ regions }) })).plates[0].gainHeadroom).toEqual([
      {
        region: 1,
        darkestPercent: 60,
        closesUm: 200,
        holdsUm: expect.closeTo(43.721, 2),
        plusMinusUm: 2.5,
        tonePercent: expect.closeTo(8.744, 2),
      },
    ]);
  });

  it('tells the largest halftone of a plate in short and all of them in full', () => {
    expect(buildReport(inputOf()).plates[0].halftone).toBeNull();
    const regions = [
      halftoneRegionOf({ rulingLpi: 45.000012 }),
      halftoneRegionOf({ kind: 'fm', areaMm2: 50, rulingLpi: null, angleDeg: null, dotPitchMm: 0.0705555 }),
    ];
    const { halftone } = buildReport(inputOf({ ask: askOf({ regions }) })).plates[0];
    expect(halftone).toMatchObject({ kind: 'am', rulingLpi: 45, angleDeg: 22.5, toneMinPercent: 10, windows: 12 });
    expect(halftone!.regions.map(({ kind, dotPitchMm }) => [kind, dotPitchMm])).toEqual([
      ['am', null],
      ['fm', 0.0706],
    ]);
  });

  it('tells file sizes and hashes by name, and the mesh both ways', () => {
    const report = buildReport(inputOf());
    expect(report.films[0]).toMatchObject({
      sizeBytes: 123,
      sha256: 'ab',
      notes: [{ code: 'layer-off', message: 'A layer is off.' }],
    });
    // 43 × 2.54 = 109.22
    expect(report.ticket.screens).toMatchObject([{ ink: 'Coral', mesh: { threadsPerCm: 43, threadsPerInch: 109.22 } }]);
    expect(report.job).toEqual({ name: 'tee', ticketFile: null });
  });

  it('keeps its keys in one order and is the same bytes for the same input', () => {
    const keys = Object.keys(buildReport(inputOf()));
    expect(keys.slice(0, 5)).toEqual(['schema', 'version', 'verdict', 'job', 'ticket']);
    expect(keys.at(-1)).toBe('timings');
    expect(JSON.stringify(buildReport(inputOf()))).toBe(JSON.stringify(buildReport(inputOf())));
    expect(Object.keys(buildReport(inputOf()).ticket.limits)).toEqual(['maxInks', 'registrationMm']);
  });

  it('is never ready while nothing was checked or the joining is open', () => {
    expect(buildReport(inputOf()).verdict).toBe('pass');
    expect(buildReport(inputOf({ checks: [] })).verdict).toBe('needsReview');
    expect(buildReport(inputOf({ ask: askOf({ open: true }) })).verdict).toBe('needsReview');
    expect(buildReport(inputOf({ ask: askOf({ open: true }), checks: [check('fail')] })).verdict).toBe('fail');
    expect(buildReport(inputOf({ checks: [check('pass'), check('couldNotRun')] })).verdict).toBe('couldNotRun');
  });

  it('refuses a number that is none', () => {
    expect(() => buildReport(inputOf({ ask: askOf({ minLineMm: Number.NaN }) }))).toThrow(/plates\[0\]\.minLineMm/);
  });
});
