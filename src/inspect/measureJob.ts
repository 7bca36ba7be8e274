import type { Artwork, Film } from '../artwork/film.ts';
import type { Ask, PlateFacts } from '../checks/ask.ts';
import { readAhead } from '../checks/exactDetail.ts';
import type { PlateMarks } from '../measurements/marks.ts';
import { marksBoxesMm } from '../measurements/measureMarks.ts';
import type { Overlap } from '../measurements/overlap.ts';
import type { Plate } from '../plates/plate.ts';
import { joinDrawnPlates, splitPass } from '../plates/splitPass.ts';
import { workingGrid } from '../plates/workingGrid.ts';
import type { BitPlane } from '../raster/bitPlane.ts';
import { coarsePitchMm } from '../raster/pixelGrid.ts';
import type { ToneImage } from '../raster/toneImage.ts';
import type { PlateLimits, ResolvedTicket } from '../ticket/ticket.ts';
import type { Crew } from './crew.ts';
import { withoutMarks } from './withoutMarks.ts';

/** Sought at least this far, so that a report says more than "wide enough". */
const leastSearchMm = 1;
const previewPx = 1400;
/** Films whose sizes differ by more are not laid on each other. */
const sameSizeMm = 1;

export interface MeasuredJob {
  readonly ask: Ask;
  readonly plates: readonly Plate[];
  readonly previews: ReadonlyMap<string, ToneImage>;
}

export type Progress = (
  stage: 'reading' | 'drawing' | 'measuring' | 'comparing' | 'judging' | 'picturing',
  done: number,
  total: number,
) => void;

/** Draws every plate of the artwork and measures all that the checks may ask for, each thing once. */
export async function measureJob(
  artwork: Artwork,
  ticket: ResolvedTicket,
  crew: Crew,
  progress: Progress,
): Promise<MeasuredJob> {
  const drawn = await drawPlates(artwork, ticket, crew, progress);
  const plates = drawn.map(({ plate }) => plate);
  const inkNameOf = (plate: Plate) => artwork.inks.find((ink) => ink.id === plate.inkId)!.name;
  progress('measuring', 0, plates.length);
  const marksWork = crew.do('measureMarks', { plates });
  const registerWork = marksWork.then((marks) => crew.do('measureRegistration', { marks, plates }));
  const plateWork = plates.map((plate) => {
    const limits = ticket.screenFor(inkNameOf(plate)).limits;
    const widest = widestDetailLimitMm(limits);
    return crew.do('measurePlate', {
      plate,
      searchToMm: Math.max(leastSearchMm, 2 * widest),
      refineBelowMm: 1.6 * widest,
      previewPx,
    });
  });
  // Whenever a pair has been compared, one plate's fine detail is read here while the crew compares the next.
  const unread: PlateFacts[] = [];
  const readOne = () => {
    const facts = unread.shift();
    if (facts === undefined) return;
    try {
      readAhead(facts, ticket.screenFor(facts.ink.name).limits);
    } catch {
      // The check that asks for these readings meets the same error and tells it.
    }
  };
  const factsWork = plates.map(async (plate, index): Promise<PlateFacts> => {
    const [marks, { detail, opacity, halftone }] = await Promise.all([marksWork, plateWork[index]]);
    const film = artwork.films.find(({ id }) => id === plate.filmId)!;
    const markBoxes = marksBoxesMm(marks.filter(({ plateId }) => plateId === plate.id));
    const facts = {
      id: plate.id,
      ink: artwork.inks.find(({ id }) => id === plate.inkId)!,
      film,
      inkKey: artwork.plateSources.find(({ id }) => id === plate.id)!.inkKey,
      grid: plate.grid,
      verified: plate.verified,
      doubts: drawn[index].doubts,
      detail: withoutMarks(detail, markBoxes),
      opacity,
      halftone,
    };
    unread.push(facts);
    return facts;
  });
  // A pair is compared as soon as its two plates and the marks are known.
  const overlapWork = pairsToCompare(artwork, plates).map(async ([first, second]) => {
    const [a, b] = await Promise.all([factsWork[first], factsWork[second]]);
    const [cellsA, cellsB] = await Promise.all([plateWork[first], plateWork[second]]);
    const compared = await comparePair([a, b], [cellsA.edgeCells, cellsB.edgeCells], {
      plates,
      artwork,
      ticket,
      crew,
      marks: await marksWork,
    });
    readOne();
    return compared;
  });
  // Awaited together, so that none is left behind when one fails.
  const [marks, registration, results, facts, compared] = await Promise.all([
    marksWork,
    registerWork,
    Promise.all(plateWork),
    counted('measuring', factsWork, progress),
    counted('comparing', overlapWork, progress),
  ]);
  const overlaps = compared.filter((overlap) => overlap !== null);
  const base = facts.findIndex(({ ink }) => isBase(ticket, ink.name));
  const underbase =
    base < 0 || plates.length < 2
      ? null
      : await crew.do('measureUnderbase', {
          base: plates[base],
          tops: plates.filter((_, index) => index !== base && sameSpace(facts[index].film, facts[base].film)),
          searchToMm: Math.max(leastSearchMm, 2 * ticket.screenFor(facts[base].ink.name).limits.chokeMm.value),
          ignoreBoxes: [...marksBoxesMm(marks), ...facts.flatMap(({ detail }) => detail.screened.boxesMm)],
        });
  return {
    ask: { ticket, artwork, plates: facts, overlaps, underbase, marks, registration },
    plates,
    previews: new Map(plates.map((plate, index) => [plate.id, results[index].preview])),
  };
}

interface PlateWithDoubts {
  readonly plate: Plate;
  readonly doubts: readonly string[];
}

async function drawPlates(
  artwork: Artwork,
  ticket: ResolvedTicket,
  crew: Crew,
  progress: Progress,
): Promise<PlateWithDoubts[]> {
  const smallestLimitMm = Math.min(
    ...artwork.inks
      .filter(({ printed }) => printed)
      .map(({ name }) => smallestDetailLimitMm(ticket.screenFor(name).limits)),
  );
  let done = 0;
  const total = artwork.plateSources.length;
  progress('drawing', 0, total);
  const byFilm = await Promise.all(
    artwork.films.map(async (film) => {
      const sources = artwork.plateSources.filter(({ filmId }) => filmId === film.id);
      if (sources.length === 0) return [];
      const { grid, tooCoarse } = workingGrid(film, smallestLimitMm);
      const passes = await film.drawing.plan(
        sources.map(({ inkKey }) => inkKey),
        grid,
      );
      const drawn = await Promise.all(
        passes.map(async (pass) => {
          const pieces = await Promise.all(splitPass(pass, crew.hands).map((piece) => crew.do('draw', piece)));
          done += pass.keys.length;
          progress('drawing', done, total);
          return pass.keys.map((key, channel) => ({
            key,
            plate: joinDrawnPlates(
              pieces.map((piece) => piece[channel]),
              grid,
            ),
          }));
        }),
      );
      return drawn.flat().map(({ key, plate }): PlateWithDoubts => {
        const source = sources.find(({ inkKey }) => inkKey === key)!;
        const doubts = film.notes
          .filter(
            (note) =>
              note.affects === 'plate' &&
              (note.inkKeys === undefined || note.inkKeys.length === 0 || note.inkKeys.includes(key)),
          )
          .map(({ message }) => message);
        if (tooCoarse)
          doubts.push(
            `The film is so large that it was drawn at ${(coarsePitchMm(grid) * 1000).toFixed(0)} µm a pixel, coarser than its limits ask.`,
          );
        return {
          plate: { ...plate, id: source.id, inkId: source.inkId, filmId: film.id, grid, verified: doubts.length === 0 },
          doubts,
        };
      });
    }),
  );
  const order = new Map(artwork.plateSources.map(({ id }, index) => [id, index]));
  return byFilm.flat().sort((a, b) => order.get(a.plate.id)! - order.get(b.plate.id)!);
}

/** Places in the list of plates of every two that lie on the same film or on films of the same size. */
function pairsToCompare(artwork: Artwork, plates: readonly Plate[]): [number, number][] {
  const films = plates.map(({ filmId }) => artwork.films.find(({ id }) => id === filmId)!);
  return plates.flatMap((_, first) =>
    plates.flatMap((_, second): [number, number][] =>
      second > first && sameSpace(films[first], films[second]) ? [[first, second]] : [],
    ),
  );
}

interface Compared {
  readonly artwork: Artwork;
  readonly plates: readonly Plate[];
  readonly ticket: ResolvedTicket;
  readonly crew: Crew;
  readonly marks: readonly PlateMarks[];
}

function comparePair(
  [a, b]: readonly [PlateFacts, PlateFacts],
  edgeCells: readonly [BitPlane, BitPlane],
  { artwork, plates, ticket, crew, marks }: Compared,
): Promise<Overlap | null> {
  const limits = [a, b].map(({ ink }) => ticket.screenFor(ink.name).limits);
  const plateOf = (facts: PlateFacts) => plates.find(({ id }) => id === facts.id)!;
  return crew.do('measureOverlap', {
    first: plateOf(a),
    second: plateOf(b),
    edgeCells,
    searchToMm: Math.max(leastSearchMm, ...limits.map(({ maxTrapMm }) => 1.25 * maxTrapMm.value)),
    ignoreBoxes: marksBoxesMm(marks),
    screenedBoxes: [...a.detail.screened.boxesMm, ...b.detail.screened.boxesMm],
    // Clear film between two inks is no gap where a third prints on it, unless that is the base below both.
    covers: plates.filter(
      ({ id, inkId, filmId }) =>
        id !== a.id &&
        id !== b.id &&
        !isBase(ticket, artwork.inks.find((ink) => ink.id === inkId)!.name) &&
        sameSpace(artwork.films.find((film) => film.id === filmId)!, a.film),
    ),
  });
}

function isBase(ticket: ResolvedTicket, inkName: string): boolean {
  return ticket.screenFor(inkName).role.value === 'underbase';
}

async function counted<T>(
  stage: 'measuring' | 'comparing',
  work: readonly Promise<T>[],
  progress: Progress,
): Promise<T[]> {
  let done = 0;
  return Promise.all(
    work.map(async (one) => {
      const result = await one;
      progress(stage, ++done, work.length);
      return result;
    }),
  );
}

function sameSpace(a: Film, b: Film): boolean {
  return (
    a.id === b.id || (Math.abs(a.widthMm - b.widthMm) <= sameSizeMm && Math.abs(a.heightMm - b.heightMm) <= sameSizeMm)
  );
}

function detailLimitsMm(limits: PlateLimits): number[] {
  return [limits.minLineMm.value, limits.minGapMm.value, limits.minDotMm.value, limits.minIslandMm.value].filter(
    (value) => value > 0,
  );
}

function widestDetailLimitMm(limits: PlateLimits): number {
  return Math.max(...detailLimitsMm(limits), 0.1);
}

function smallestDetailLimitMm(limits: PlateLimits): number {
  return Math.min(...detailLimitsMm(limits), 1);
}
