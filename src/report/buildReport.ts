import type { Ask, PlateFacts } from '../checks/ask.ts';
import type { CheckResult } from '../findings/finding.ts';
import { type Verdict, verdictOf, worstOutcome } from '../findings/outcome.ts';
import type { Halftone } from '../measurements/halftone.ts';
import type { Mark } from '../measurements/marks.ts';
import type { PressPlan } from '../pressPlan/pressPlan.ts';
import type { ResolvedTicket } from '../ticket/ticket.ts';
import { gainHeadroomOf } from './gainHeadroomOf.ts';
import { meshBeatsOf } from './meshBeatsOf.ts';
import type { ReportFilm, ReportHalftone, ReportJson, ReportMark, ReportPair, ReportPlate } from './reportJson.ts';
import { reportTicket } from './reportTicket.ts';

export interface ReportInput {
  readonly version: string;
  readonly ask: Ask;
  readonly checks: readonly CheckResult[];
  readonly plan: PressPlan;
  /** The art of each film, by the film's id; none when left out. */
  readonly art?: ReadonlyMap<string, ReportFilm['artMm']>;
  /** Files as delivered; `sha256` in lower-case hexadecimal. */
  readonly sourceFiles: readonly { readonly name: string; readonly sizeBytes: number; readonly sha256: string }[];
  readonly notLookedAt: ReportJson['notLookedAt'];
  readonly timings: Readonly<Record<string, number>>;
}

/**
 * The report JSON of an inspected job. The same input gives the same bytes: keys stand in one order and every number
 * is rounded (lengths to 0.1 µm, scales to a millionth). Throws RangeError for a number that is not finite, which no
 * measurement may hand over.
 */
export function buildReport(input: ReportInput): ReportJson {
  const { ask } = input;
  const report: ReportJson = {
    schema: 'plateglass/report/1',
    version: input.version,
    verdict: verdictFor(input),
    job: { name: ask.ticket.job?.value ?? ask.artwork.name, ticketFile: ask.ticket.ticketFile },
    ticket: reportTicket(
      ask.ticket,
      ask.artwork.inks.filter((ink) => ink.printed).map((ink) => ink.name),
    ),
    films: ask.artwork.films.map((film) => filmOf(film, input)),
    joined: ask.artwork.joinNotes.map(({ code, message, open }) => ({ code, message, open })),
    inks: ask.artwork.inks.map(({ id, name, kind, displayHex, printed }) => ({ id, name, kind, displayHex, printed })),
    plates: ask.plates.map((plate) => plateOf(plate, ask)),
    pairs: ask.overlaps.map(pairOf),
    underbase: underbaseOf(ask),
    registration: registrationOf(ask),
    checks: input.checks,
    notLookedAt: input.notLookedAt.map(({ title, why }) => ({ title, why })),
    plan: input.plan,
    timings: input.timings,
  };
  return rounded(report, 'report') as ReportJson;
}

/** The worst of the checks; a job whose joining left a question open is never simply ready. */
function verdictFor(input: ReportInput): Verdict {
  const verdict = verdictOf(input.checks.map((check) => check.outcome));
  const isOpen = input.ask.artwork.joinNotes.some((note) => note.open);
  return isOpen ? (worstOutcome([verdict, 'needsReview']) as Verdict) : verdict;
}

function filmOf(film: Ask['artwork']['films'][number], { sourceFiles, art }: ReportInput): ReportFilm {
  const file = sourceFiles.find((candidate) => candidate.name === film.file);
  return {
    id: film.id,
    file: film.file,
    sizeBytes: file?.sizeBytes ?? 0,
    sha256: file?.sha256 ?? '',
    page: film.page,
    format: film.format,
    nature: film.nature,
    widthMm: film.widthMm,
    heightMm: film.heightMm,
    scaleKnown: film.scaleKnown,
    objectCount: film.objects.length,
    artMm: art?.get(film.id) ?? null,
    notes: film.notes.map(({ code, message }) => ({ code, message })),
  };
}

function plateOf(plate: PlateFacts, { marks, ticket }: Ask): ReportPlate {
  const { detail, grid, opacity } = plate;
  const own = marks.find((candidate) => candidate.plateId === plate.id);
  const mesh = ticket.screenFor(plate.ink.name).mesh?.value ?? null;
  return {
    id: plate.id,
    inkId: plate.ink.id,
    filmId: plate.film.id,
    widthPx: grid.widthPx,
    heightPx: grid.heightPx,
    pitchMm: grid.pitchXMm,
    pitchYMm: grid.pitchYMm,
    verified: plate.verified,
    coveragePercent: opacity.coveragePercent,
    minLineMm: detail.minLineMm,
    minGapMm: detail.minGapMm,
    minDotMm: detail.minDotMm,
    minIslandMm: detail.minIslandMm,
    detailPlusMinusMm: detail.plusMinusMm,
    detailSearchedToMm: detail.searchedToMm,
    screenedPercent: detail.screened.sharePercent,
    halftone: halftoneOf(plate.halftone),
    meshBeats: meshBeatsOf(plate.halftone, mesh),
    gainHeadroom: gainHeadroomOf(plate.halftone, mesh),
    halftoneUnclassified: plate.halftone.unclassified.slice(0, mostPlaces),
    opacity: { semiOpaquePercent: opacity.semiOpaquePercent, maxInkPercent: opacity.maxInkPercent },
    scan: null,
    marks: (own?.marks ?? []).map((mark) => reportMark(mark, plate, ticket)),
    missingMarks: own?.missing ?? [],
  };
}

function reportMark(mark: Mark, { film }: PlateFacts, { print }: ResolvedTicket): ReportMark {
  const insidePrint =
    print.widthMm === null || print.heightMm === null
      ? null
      : Math.abs(mark.xMm - film.widthMm / 2) + mark.sizeMm / 2 <= print.widthMm.value / 2 &&
        Math.abs(mark.yMm - film.heightMm / 2) + mark.sizeMm / 2 <= print.heightMm.value / 2;
  return { ...mark, insidePrint };
}

function halftoneOf({ regions }: Halftone): ReportHalftone | null {
  const largest = regions.at(0);
  if (largest === undefined) return null;
  const { kind, rulingLpi, angleDeg, dotShape, toneMinPercent, toneMaxPercent, windows } = largest;
  return {
    kind,
    rulingLpi,
    angleDeg,
    dotShape,
    toneMinPercent,
    toneMaxPercent,
    windows,
    regions: regions.slice(0, mostPlaces),
    regionsTotal: regions.length,
  };
}

function pairOf(overlap: Ask['overlaps'][number]): ReportPair {
  return {
    plateIds: overlap.plateIds,
    touchingLengthMm: overlap.touchingLengthMm,
    minOverlapMm: overlap.minOverlapMm,
    medianOverlapMm: overlap.medianOverlapMm,
    maxGapMm: overlap.maxGapMm,
    buttedLengthMm: overlap.buttedLengthMm,
    searchedToMm: overlap.searchedToMm,
    plusMinusMm: overlap.plusMinusMm,
    maxOverlapMm: overlap.maxOverlapMm,
    gapLengthMm: overlap.gapLengthMm,
    overlapByLength: overlap.overlapByLength,
    overlapSpread: overlap.overlapSpread,
    sharedAreaMm2: overlap.sharedAreaMm2,
    trapAreaMm2: overlap.trapAreaMm2,
    overprintAreaMm2: overlap.overprintAreaMm2,
    overprintPercent: overlap.overprintPercent,
    knockOuts: overlap.knockOuts,
    leftOut: overlap.leftOut,
  };
}

function underbaseOf({ underbase: fit }: Ask): ReportJson['underbase'] {
  if (fit === null) return null;
  return {
    basePlateId: fit.basePlateId,
    topPlateIds: fit.topPlateIds,
    plusMinusMm: fit.plusMinusMm,
    minChokeMm: fit.minChokeMm,
    medianChokeMm: fit.medianChokeMm,
    insetLengthMm: fit.insetLengthMm,
    flushLengthMm: fit.flushLengthMm,
    peekLengthMm: fit.peekLengthMm,
    chokeByLength: fit.chokeByLength,
    chokeSpread: fit.chokeSpread,
    tops: fit.tops,
    unbased: fit.unbased.slice(0, mostPlaces),
    unbasedTotal: fit.unbased.length,
    bareStrips: fit.bareStrips.slice(0, mostPlaces),
    bareStripsTotal: fit.bareStrips.length,
    exposedAreaMm2: fit.exposedAreaMm2,
    exposed: fit.exposed.slice(0, mostPlaces),
    exposedTotal: fit.exposed.length,
  };
}

function registrationOf(ask: Ask): ReportJson['registration'] {
  if (ask.registration === null) return null;
  return {
    referencePlateId: ask.registration.referencePlateId,
    plates: ask.registration.plates.map((plate) => ({
      plateId: plate.plateId,
      dxMm: plate.dxMm,
      dyMm: plate.dyMm,
      rotationDeg: plate.rotationDeg,
      rotationPlusMinusDeg: plate.rotationPlusMinusDeg,
      scale: plate.scale,
      scalePlusMinus: plate.scalePlusMinus,
      residualMm: plate.residualMm,
      marksUsed: plate.marksUsed,
      scaleX: plate.scaleX,
      scaleY: plate.scaleY,
      skewDeg: plate.skewDeg,
      model: plate.model,
      residuals: plate.residuals,
      worstOffsetMm: plate.worstOffsetMm,
      plusMinusMm: plate.plusMinusMm,
      movedMark: plate.movedMark,
      worstOnArt: plate.worstOnArt,
      worstAfterFit: plate.worstAfterFit,
      artFit: plate.artFit,
    })),
  };
}

const mostPlaces = 50;
const fineKeys = new Set([
  'scale',
  'scaleX',
  'scaleY',
  'scalePlusMinus',
  'rotationDeg',
  'rotationPlusMinusDeg',
  'skewDeg',
]);

/** A plain copy with every number rounded: 6 decimals for scale and rotation, 4 for all else. */
function rounded(value: unknown, path: string, decimals = 4): unknown {
  if (typeof value === 'number') {
    if (!Number.isFinite(value)) throw new RangeError(`${path} is not a finite number.`);
    return Number(value.toFixed(decimals)) + 0;
  }
  if (Array.isArray(value)) return value.map((item, index) => rounded(item, `${path}[${index}]`, decimals));
  if (value === null || typeof value !== 'object') return value;
  const copy: Record<string, unknown> = {};
  for (const [key, item] of Object.entries(value)) {
    if (item === undefined) continue;
    copy[key] = rounded(item, `${path}.${key}`, fineKeys.has(key) ? 6 : decimals);
  }
  return copy;
}
