import type { Artwork } from '../artwork/film.ts';
import type { Ask, PlateFacts } from '../checks/ask.ts';
import { readAhead } from '../checks/exactDetail.ts';
import { marksBoxesMm } from '../measurements/measureMarks.ts';
import { unclassifiedParts } from '../measurements/unclassifiedParts.ts';
import type { Plate } from '../plates/plate.ts';
import { joinDrawnPlates, splitPass } from '../plates/splitPass.ts';
import { coarsePitchMm } from '../raster/pixelGrid.ts';
import type { ToneImage } from '../raster/toneImage.ts';
import type { ResolvedTicket } from '../ticket/ticket.ts';
import type { Crew } from './crew.ts';
import { type MeasuringPlan, planMeasuring } from './measuringPlan.ts';
import { withoutMarks } from './withoutMarks.ts';

export const previewPx = 1400;

export interface MeasuredJob {
  readonly ask: Ask;
  /** What was measured, as far as the ticket has a say in it. */
  readonly plan: MeasuringPlan;
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
  const plan = planMeasuring(artwork, ticket);
  const drawn = await drawPlates(artwork, plan, crew, progress);
  const plates = drawn.map(({ plate }) => plate);
  progress('measuring', 0, plates.length);
  const marksWork = crew.do('measureMarks', { plates });
  const registerWork = marksWork.then((marks) => crew.do('measureRegistration', { marks, plates }));
  const plateWork = plates.map((plate, index) => {
    const { searchToMm, refineBelowMm } = plan.plates[index];
    const measured = crew.do('measurePlate', { plate, searchToMm, refineBelowMm, previewPx });
    return { measured, halftone: crew.do('measureHalftone', { plate }) };
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
    const work = plateWork[index];
    const [marks, { detail, opacity }, { regions }] = await Promise.all([marksWork, work.measured, work.halftone]);
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
      halftone: { regions, unclassified: unclassifiedParts(detail.screened, regions) },
    };
    unread.push(facts);
    return facts;
  });
  // A pair is compared as soon as its two plates and the marks are known.
  const plateOf = (id: string) => plates.find((plate) => plate.id === id)!;
  const overlapWork = plan.pairs.map(async ({ plateIds, searchToMm, coverPlateIds }) => {
    const [first, second] = plateIds.map((id) => plates.findIndex((plate) => plate.id === id));
    const [a, b] = await Promise.all([factsWork[first], factsWork[second]]);
    const [cellsA, cellsB] = await Promise.all([plateWork[first].measured, plateWork[second].measured]);
    const compared = await crew.do('measureOverlap', {
      first: plates[first],
      second: plates[second],
      edgeCells: [cellsA.edgeCells, cellsB.edgeCells],
      searchToMm,
      ignoreBoxes: marksBoxesMm(await marksWork),
      screenedBoxes: [...a.detail.screened.boxesMm, ...b.detail.screened.boxesMm],
      covers: coverPlateIds.map(plateOf),
    });
    readOne();
    return compared;
  });
  // Awaited together, so that none is left behind when one fails.
  const [marks, registration, results, facts, compared] = await Promise.all([
    marksWork,
    registerWork,
    Promise.all(plateWork.map(({ measured }) => measured)),
    counted('measuring', factsWork, progress),
    counted('comparing', overlapWork, progress),
  ]);
  const overlaps = compared.filter((overlap) => overlap !== null);
  const underbase =
    plan.underbase === null
      ? null
      : await crew.do('measureUnderbase', {
          base: plateOf(plan.underbase.basePlateId),
          tops: plan.underbase.topPlateIds.map(plateOf),
          searchToMm: plan.underbase.searchToMm,
          ignoreBoxes: [...marksBoxesMm(marks), ...facts.flatMap(({ detail }) => detail.screened.boxesMm)],
        });
  return {
    ask: { ticket, artwork, plates: facts, overlaps, underbase, marks, registration },
    plan,
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
  plan: MeasuringPlan,
  crew: Crew,
  progress: Progress,
): Promise<PlateWithDoubts[]> {
  let done = 0;
  const total = artwork.plateSources.length;
  progress('drawing', 0, total);
  const byFilm = await Promise.all(
    plan.films.map(async ({ filmId: id, grid, tooCoarse }) => {
      const film = artwork.films.find((one) => one.id === id)!;
      const sources = artwork.plateSources.filter(({ filmId }) => filmId === id);
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
