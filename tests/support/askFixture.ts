import type { ArtObject } from '../../src/artwork/artObject.ts';
import type { Artwork, Film } from '../../src/artwork/film.ts';
import type { Ink } from '../../src/artwork/ink.ts';
import type { Ask, PlateFacts } from '../../src/checks/ask.ts';
import type { Reading } from '../../src/findings/finding.ts';
import type { BoxMm } from '../../src/geometry/box.ts';
import type { Detail, NarrowPlace, SpotPlace } from '../../src/measurements/detail.ts';
import type { Halftone, HalftoneRegion } from '../../src/measurements/halftone.ts';
import type { Mark, PlateMarks, PlateRegister, Registration } from '../../src/measurements/marks.ts';
import type { Opacity } from '../../src/measurements/opacity.ts';
import type { BoundaryPlace, Overlap, UnderbaseFit } from '../../src/measurements/overlap.ts';
import type { TicketSpec } from './ticketFixture.ts';
import { ticketOf } from './ticketFixture.ts';

export type InkSpec = Pick<Ink, 'name'> & Partial<Omit<Ink, 'id'>>;
export type FilmSpec = Partial<Film>;
export interface PlateSpec {
  readonly ink: string;
  readonly filmId?: string;
  readonly pitchMm?: number;
  readonly doubts?: readonly string[];
  readonly detail?: Partial<Detail>;
  readonly opacity?: Partial<Opacity>;
  readonly halftone?: Partial<Halftone>;
}

export interface AskSpec {
  /** A bare name is a printed spot ink. */
  readonly inks?: readonly (string | InkSpec)[];
  /** One film, `f1`, 300 × 360 mm, of vectors, unless given. */
  readonly films?: readonly FilmSpec[];
  /** One for each printed ink, on the first film, unless given. */
  readonly plates?: readonly PlateSpec[];
  readonly ticket?: TicketSpec;
  readonly overlaps?: readonly Overlap[];
  readonly underbase?: UnderbaseFit | null;
  readonly marks?: readonly PlateMarks[];
  readonly registration?: Registration | null;
}

/** A small measured job made by hand: what is not given is plain and clean. Plate ids are `p-` and the ink's name. */
export function askOf(spec: AskSpec = {}): Ask {
  const inks = (spec.inks ?? ['Coral']).map((ink, index) =>
    inkOf(typeof ink === 'string' ? { name: ink } : ink, index),
  );
  const films = (spec.films ?? [{}]).map((film, index) => filmOf({ id: `f${index + 1}`, ...film }));
  const plateSpecs = spec.plates ?? inks.filter(({ printed }) => printed).map(({ name }): PlateSpec => ({ ink: name }));
  const plates = plateSpecs.map((plate) => plateOf(plate, inks, films));
  const artwork: Artwork = {
    name: 'midsummer-tee',
    films,
    inks,
    plateSources: plates.map(({ id, ink, film, inkKey }) => ({ id, inkId: ink.id, filmId: film.id, inkKey })),
    joinNotes: [],
  };
  return {
    ticket: ticketOf(spec.ticket),
    artwork,
    plates,
    overlaps: spec.overlaps ?? [],
    underbase: spec.underbase ?? null,
    marks: spec.marks ?? [],
    registration: spec.registration ?? null,
  };
}

function inkOf(spec: InkSpec, index: number): Ink {
  return { id: `i${index + 1}`, nameFrom: 'file', kind: 'spot', displayHex: '#e2725b', printed: true, ...spec };
}

function filmOf(spec: FilmSpec): Film {
  return {
    id: 'f1',
    file: 'tee.pdf',
    page: 1,
    pageCount: 1,
    format: 'pdf',
    form: 'composite',
    separationName: null,
    widthMm: 300,
    heightMm: 360,
    scaleKnown: true,
    inks: [],
    objects: [],
    notes: [],
    drawing: {
      nativeGrid: null,
      plan: () => {
        throw new Error('A check draws nothing.');
      },
    },
    nature: 'vector',
    ...spec,
  };
}

function plateOf(spec: PlateSpec, inks: readonly Ink[], films: readonly Film[]): PlateFacts {
  const ink = inks.find(({ name }) => name === spec.ink)!;
  const film = films.find(({ id }) => id === (spec.filmId ?? films[0].id))!;
  const pitchMm = spec.pitchMm ?? 0.02;
  return {
    id: `p-${ink.name}`,
    ink,
    film,
    inkKey: ink.name,
    grid: {
      widthPx: Math.round(film.widthMm / pitchMm),
      heightPx: Math.round(film.heightMm / pitchMm),
      pitchXMm: pitchMm,
      pitchYMm: pitchMm,
    },
    verified: (spec.doubts ?? []).length === 0,
    doubts: spec.doubts ?? [],
    detail: { ...cleanDetail, ...spec.detail },
    opacity: { ...cleanOpacity, ...spec.opacity },
    halftone: { regions: [], unclassified: [], ...spec.halftone },
  };
}

const cleanDetail: Detail = {
  searchedToMm: 1,
  plusMinusMm: 0.02,
  lines: [],
  gaps: [],
  dots: [],
  islands: [],
  minLineMm: null,
  minGapMm: null,
  minDotMm: null,
  minIslandMm: null,
  screened: { sharePercent: 0, boxesMm: [], areasMm2: [], innerAreasMm2: [], spotCount: 0 },
};

const cleanOpacity: Opacity = {
  coveragePercent: 12,
  semiOpaquePercent: 0,
  maxInkPercent: 100,
  toneMinPercent: null,
  toneMaxPercent: null,
  semiOpaqueAreas: [],
  softScreenedPercent: 0,
  softScreenedAreas: [],
  inkedBoxMm: { xMm: 20, yMm: 20, widthMm: 260, heightMm: 320 },
};

export function boxAt(xMm: number, yMm: number, widthMm = 2, heightMm = 2): BoxMm {
  return { xMm, yMm, widthMm, heightMm };
}

/** A part of 100 × 80 mm in round dots of 45 lpi at 22.5°, from 10 to 80 %, 600 dpi; other kinds need more of `more`. */
export function halftoneRegionOf(more: Partial<HalftoneRegion> = {}): HalftoneRegion {
  return {
    kind: 'am',
    boxMm: boxAt(100, 80, 100, 80),
    areaMm2: 8000,
    rulingLpi: 45,
    rulingPlusMinusLpi: 0.02,
    angleDeg: 22.5,
    anglePlusMinusDeg: 0.02,
    dotShape: 'round',
    dotShapeClass: 'symmetric',
    dotPitchMm: null,
    toneMinPercent: 10,
    toneMaxPercent: 80,
    tonePlusMinusPercent: 0.5,
    areaByToneMm2: Array.from({ length: 101 }, (_, tone) => (tone >= 10 && tone <= 80 ? 8000 / 71 : 0)),
    lightest: [{ boxMm: boxAt(100, 80), tonePercent: 10 }],
    darkest: [{ boxMm: boxAt(198, 158), tonePercent: 80 }],
    pixelsPerCell: 600 / 45,
    greyLevels: 178,
    softEdgePercent: null,
    windows: 12,
    windowsAgreed: 12,
    ...more,
  };
}

/** Parts full of small dots, boxes throughout, that come to a share of the film. */
export function screenedOf(sharePercent: number, boxesMm: readonly BoxMm[] = []): Detail['screened'] {
  const areasMm2 = boxesMm.map(({ widthMm, heightMm }) => widthMm * heightMm);
  return { sharePercent, boxesMm, areasMm2, innerAreasMm2: areasMm2, spotCount: 900 };
}

/** A narrow place whose middle lies at x, y; 3 mm long and level. */
export function narrowAt(minWidthMm: number, xMm = 100, yMm = 40, more: Partial<NarrowPlace> = {}): NarrowPlace {
  return {
    kind: 'line',
    boxMm: boxAt(xMm - 1.5, yMm - minWidthMm / 2, 3, minWidthMm),
    xMm,
    yMm,
    minWidthMm,
    medianWidthMm: minWidthMm,
    lengthMm: 3,
    directionDeg: 0,
    plusMinusMm: 0.02,
    ...more,
  };
}

/** A round spot. */
export function spotAt(diameterMm: number, xMm = 100, yMm = 40, plusMinusMm = 0.02): SpotPlace {
  return {
    boxMm: boxAt(xMm - diameterMm / 2, yMm - diameterMm / 2, diameterMm, diameterMm),
    areaMm2: (Math.PI * diameterMm ** 2) / 4,
    equivalentDiameterMm: diameterMm,
    minWidthMm: diameterMm,
    plusMinusMm,
  };
}

/** A painted object in the first ink given. */
export function objectOf(more: Partial<ArtObject> & Pick<ArtObject, 'id'>): ArtObject {
  return {
    kind: 'fill',
    boxMm: boxAt(50, 50, 40, 40),
    inks: [{ key: 'Coral', tintRatio: 1 }],
    isWhite: false,
    strokeWidthMm: null,
    text: null,
    image: null,
    overprint: null,
    opacityRatio: 1,
    blendMode: 'Normal',
    layerPath: [],
    hidden: null,
    ...more,
  };
}

export function boundaryAt(overlapMm: number, lengthMm = 10, xMm = 100, yMm = 40): BoundaryPlace {
  return { boxMm: boxAt(xMm, yMm, lengthMm, 1), xMm: xMm + lengthMm / 2, yMm: yMm + 0.5, overlapMm, lengthMm };
}

export function overlapOf(first: string, second: string, more: Partial<Overlap> = {}): Overlap {
  return {
    plateIds: [`p-${first}`, `p-${second}`],
    searchedToMm: 1,
    plusMinusMm: 0.02,
    touchingLengthMm: 800,
    minOverlapMm: null,
    medianOverlapMm: null,
    maxOverlapMm: null,
    maxGapMm: null,
    buttedLengthMm: 0,
    gapLengthMm: 0,
    overlapByLength: [],
    overlapSpread: null,
    sharedAreaMm2: 0,
    trapAreaMm2: 0,
    overprintAreaMm2: 0,
    overprintPercent: [0, 0],
    knockOuts: {
      firstInSecond: { count: 0, boundaryMm: 0, areaMm2: 0 },
      secondInFirst: { count: 0, boundaryMm: 0, areaMm2: 0 },
    },
    leftOut: { areaMm2: 0, sharedAreaMm2: 0, outlineMm: 0 },
    overlaps: [],
    butts: [],
    gaps: [],
    ...more,
  };
}

export function underbaseOf(base: string, tops: readonly string[], more: Partial<UnderbaseFit> = {}): UnderbaseFit {
  return {
    basePlateId: `p-${base}`,
    topPlateIds: tops.map((top) => `p-${top}`),
    plusMinusMm: 0.02,
    minChokeMm: null,
    medianChokeMm: null,
    insetLengthMm: 0,
    flushLengthMm: 0,
    peekLengthMm: 0,
    chokeByLength: [],
    chokeSpread: null,
    peeks: [],
    chokes: [],
    unbased: [],
    bareStrips: [],
    tops: tops.map((top) => ({ plateId: `p-${top}`, areaMm2: 0, bareAreaMm2: 0 })),
    exposedAreaMm2: 0,
    exposed: [],
    ...more,
  };
}

export function markAt(xMm: number, yMm: number): Mark {
  return {
    kind: 'crosshair',
    xMm,
    yMm,
    plusMinusMm: 0.01,
    lineWeightMm: 0.1,
    sizeMm: 8,
    reversed: false,
    cut: false,
    artDistanceMm: null,
  };
}

export function marksOf(ink: string, marks: readonly Mark[], more: Partial<PlateMarks> = {}): PlateMarks {
  return { plateId: `p-${ink}`, marks, unconfirmed: [], missing: [], artHullMm: [], ...more };
}

export function registerOf(ink: string, more: Partial<PlateRegister> = {}): PlateRegister {
  return {
    plateId: `p-${ink}`,
    marksUsed: 3,
    dxMm: 0,
    dyMm: 0,
    rotationDeg: 0,
    rotationPlusMinusDeg: 0.002,
    scale: 1,
    scalePlusMinus: 0.00003,
    residualMm: 0,
    worstOffsetMm: 0,
    plusMinusMm: 0.01,
    model: 'similarity',
    residuals: [],
    scaleX: 1,
    scaleY: 1,
    skewDeg: 0,
    movedMark: null,
    worstOnArt: null,
    worstAfterFit: null,
    artFit: null,
    ...more,
  };
}

/** The reading's whereabouts, for the few tests that build readings themselves. */
export function readingOf(value: number, unit: Reading['unit'], more: Partial<Reading> = {}): Reading {
  return { value, unit, plusMinus: 0, plateIds: [], inkNames: [], filmId: null, boxMm: null, ...more };
}
