import { compositeOnShirt, slipOfPlate } from './composite.ts';
import type { CropPicture } from './cropPicture.ts';
import { digestOf } from './digest.ts';
import { type Figures, figuresOf } from './figures.ts';
import type { Inspection } from './inspection.ts';
import { markPicturesOf } from './markPictures.ts';
import type { Picture } from './paintLayers.ts';
import type { ReportJson } from './reportJson.ts';
import { spectrumPicturesOf } from './spectrumPictures.ts';
import { tintPicturesOf } from './tintPictures.ts';

/** A report with every picture it shows, painted and packed. Plain data, so that another thread can set it. */
export interface PaintedReport {
  readonly report: ReportJson;
  /** Null when there are no plates. */
  readonly composite: Picture | null;
  /** The films, by plate id. */
  readonly slips: ReadonlyMap<string, Picture>;
  /** What is shown of each finding, by the anchor of its entry. */
  readonly figures: ReadonlyMap<string, Figures>;
  /** Registration marks enlarged, by plate id; none when left out. */
  readonly marks?: ReadonlyMap<string, readonly CropPicture[]>;
  /** Where the tones of halftoned parts lie, by `partKey`; none when left out. */
  readonly tints?: ReadonlyMap<string, CropPicture>;
  /** Spectra of halftoned parts, by `partKey`; none when left out. */
  readonly spectra?: ReadonlyMap<string, CropPicture>;
}

/** Paints all that page and PDF show, each picture once for both. */
export async function paintReport(inspection: Inspection): Promise<PaintedReport> {
  const { report } = inspection;
  const { stops, lookFirst } = digestOf(report);
  const entries = [...stops, ...lookFirst].flatMap((group) => group.entries);
  const maps = new Map<string, Promise<Picture>>();
  const [composite, slips, figures, marks, spectra, tints] = await Promise.all([
    compositeOnShirt(inspection),
    Promise.all(report.plates.map(async ({ id }) => [id, await slipOfPlate(inspection, id)] as const)),
    Promise.all(entries.map(async (entry) => [entry.anchor, await figuresOf(inspection, entry, maps)] as const)),
    markPicturesOf(inspection),
    spectrumPicturesOf(inspection),
    tintPicturesOf(report),
  ]);
  const painted = slips.filter((slip): slip is readonly [string, Picture] => slip[1] !== null);
  return { report, composite, slips: new Map(painted), figures: new Map(figures), marks, spectra, tints };
}
