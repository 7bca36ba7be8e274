import type { DotShape, DotShapeClass, HalftoneKind, HalftoneRegion } from '../measurements/halftone.ts';
import { areaWords, counted, fixed } from './format.ts';
import type { ReportGainHeadroom, ReportJson, ReportMeshBeats } from './reportJson.ts';
import type { ToneChart } from './toneChart.ts';

/** As many parts of a plate are shown. */
export const mostHalftoneParts = 4;

type ReportPlate = ReportJson['plates'][number];

/** A halftoned part of a plate as it is shown. */
export interface ShownHalftone {
  readonly plate: ReportPlate;
  readonly part: HalftoneRegion;
  /** Which of the plate's parts. */
  readonly region: number;
  /** What it makes with its mesh; null where that is not known. */
  readonly beats: ReportMeshBeats | null;
  /** What its dots may gain; null where that cannot be told. */
  readonly headroom: ReportGainHeadroom | null;
}

/** The largest parts of each plate. */
export function shownHalftones({ plates }: ReportJson): ShownHalftone[] {
  return plates.flatMap((plate) =>
    (plate.halftone?.regions ?? []).slice(0, mostHalftoneParts).map((part, region) => ({
      plate,
      part,
      region,
      beats: plate.meshBeats.find((one) => one.region === region) ?? null,
      headroom: plate.gainHeadroom?.find((one) => one.region === region) ?? null,
    })),
  );
}

/** Names a part of a plate among the pictures of a report. */
export const partKey = (plateId: string, region: number): string => `${plateId} ${region}`;

/** What the part is about, and what is left out of it. */
export function leadOfHalftones({ plates }: ReportJson): string {
  const total = plates.reduce((sum, { halftone }) => sum + (halftone?.regionsTotal ?? 0), 0);
  const more = plates.reduce(
    (sum, { halftone }) => sum + Math.max(0, (halftone?.regionsTotal ?? 0) - mostHalftoneParts),
    0,
  );
  const left =
    more === 0 ? '' : ` The ${mostHalftoneParts} largest of each film are shown, ${counted(more, 'smaller one')} not.`;
  return `${counted(total, 'halftoned part')} read from the films. Angles run counter-clockwise from the x axis.${left}`;
}

export function chartOfHalftone({ part, beats }: ShownHalftone): ToneChart {
  return { areaByToneMm2: part.areaByToneMm2, heldTonesPercent: beats?.heldTonesPercent ?? null };
}

const kindWords: Readonly<Record<HalftoneKind, string>> = {
  am: 'dots on a lattice',
  fm: 'scattered dots of one size',
  ordered: 'a threshold matrix on the film’s pixels',
  pattern: 'regular artwork of one tone, no halftone',
};
const shapeWords: Readonly<Record<DotShape, string>> = {
  round: 'round',
  euclidean: 'round, square at half tone, round holes',
  square: 'square',
  diamond: 'diamond',
  elliptical: 'elliptical, chained along the angle',
  line: 'lines',
  unknown: '',
};
const classWords: Readonly<Record<DotShapeClass, string>> = {
  line: 'lines',
  elongated: 'elongated',
  symmetric: 'as broad as high',
  unknown: 'not told by the film',
};

/** Everything measured of a part, in the order it is asked for. */
export function factsOfHalftone(
  { part, beats, headroom }: ShownHalftone,
  gap: string,
): { term: string; value: string }[] {
  const facts: { term: string; value: string }[] = [];
  const add = (term: string, value: string) => facts.push({ term, value });
  add('Kind', kindWords[part.kind]);
  if (part.rulingLpi !== null) add('Ruling', rulingWords(part.rulingLpi, part.rulingPlusMinusLpi, gap));
  if (part.angleDeg !== null) {
    const plusMinus = part.anglePlusMinusDeg ?? 0;
    add('Angle', `${fixed(part.angleDeg, 2)}°${plusMinus > 0 ? ` ±${gap}${fixed(plusMinus, 2)}°` : ''}`);
  }
  if (part.dotPitchMm !== null) add('Dot', `${fixed(1000 * part.dotPitchMm, 0)}${gap}µm`);
  if (part.kind !== 'fm') add('Shape', shapeWords[part.dotShape] || classWords[part.dotShapeClass]);
  const { toneMinPercent, toneMaxPercent, tonePlusMinusPercent } = part;
  if (toneMinPercent !== null && toneMaxPercent !== null) {
    add(
      'Tones',
      `${fixed(toneMinPercent, 1)} to ${fixed(toneMaxPercent, 1)}${gap}% ±${gap}${fixed(tonePlusMinusPercent, 1)}`,
    );
  }
  add('Area', areaWords(part.areaMm2, gap));
  if (part.pixelsPerCell !== null && part.greyLevels !== null) {
    add('Cell', `${fixed(part.pixelsPerCell, 1)} pixels, ${part.greyLevels} tones`);
  }
  if (part.softEdgePercent !== null) add('Soft edges', `${fixed(part.softEdgePercent, 1)}${gap}% of the dots’ edges`);
  if (part.windows > 0) add('Read in', `${part.windowsAgreed} of ${counted(part.windows, 'window')}`);
  if (beats !== null) add('Mesh', meshWords(beats, gap));
  if (headroom !== null) add('Dot gain', headroomWords(headroom, gap));
  return facts;
}

function rulingWords(lpi: number, plusMinusLpi: number | null, gap: string): string {
  const plusMinus = plusMinusLpi === null || plusMinusLpi === 0 ? '' : ` ±${gap}${fixed(plusMinusLpi, 2)}`;
  return `${fixed(lpi, 2)}${plusMinus}${gap}lpi, ${fixed(lpi / 2.54, 1)}/cm`;
}

function meshWords({ meshRatio, beats: [strongest] }: ReportMeshBeats, gap: string): string {
  const ratio = `${fixed(meshRatio, 2)} threads to a line`;
  if (strongest === undefined) return `${ratio}; no slow beat`;
  const { periodMm, modulationPercent, tonePercent } = strongest;
  const period = periodMm === null ? 'without end' : `every ${fixed(periodMm, periodMm < 10 ? 2 : 1)}${gap}mm`;
  return `${ratio}; beats ${period}, at most ${fixed(modulationPercent, 1)}${gap}% at ${fixed(tonePercent, 0)}${gap}%`;
}

/** How far the edges of the darkest dots may spread, and what then happens. */
function headroomWords({ darkestPercent, closesUm, holdsUm, plusMinusUm }: ReportGainHeadroom, gap: string): string {
  const at = `the holes of ${fixed(darkestPercent, 1)}${gap}%`;
  const bar = ` ±${gap}${fixed(plusMinusUm, 0)}${gap}µm`;
  const closes = `${at} close when every edge grows by ${fixed(closesUm, 0)}${bar}`;
  if (holdsUm === null) return closes;
  if (Math.abs(holdsUm) <= plusMinusUm) return `${closes}; the mesh only just holds them, if at all`;
  if (holdsUm < 0) return `no room: the mesh does not hold ${at}; they close at ${fixed(closesUm, 0)}${bar} an edge`;
  return `${closes}; the mesh holds them up to ${fixed(holdsUm, 0)}${bar}`;
}
