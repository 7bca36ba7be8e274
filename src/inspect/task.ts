import type { DrawPass } from '../artwork/drawing.ts';
import type { BoxMm } from '../geometry/box.ts';
import type { Detail } from '../measurements/detail.ts';
import type { Halftone } from '../measurements/halftone.ts';
import type { PlateMarks, Registration } from '../measurements/marks.ts';
import { measureDetail } from '../measurements/measureDetail.ts';
import { measureHalftone } from '../measurements/measureHalftone.ts';
import { measureMarks } from '../measurements/measureMarks.ts';
import { measureOpacity } from '../measurements/measureOpacity.ts';
import { measureOverlap } from '../measurements/measureOverlap.ts';
import { measureRegistration } from '../measurements/measureRegistration.ts';
import { measureUnderbase } from '../measurements/measureUnderbase.ts';
import type { Opacity } from '../measurements/opacity.ts';
import type { Overlap, UnderbaseFit } from '../measurements/overlap.ts';
import { previewPlate } from '../measurements/previewPlate.ts';
import { withTones } from '../measurements/softDetail.ts';
import { archivePlate, type PackedPlate } from '../plateArchive/archivePlate.ts';
import { drawPass } from '../plates/drawPass.ts';
import type { Plate } from '../plates/plate.ts';
import type { DrawnPlate } from '../plates/plateBuilder.ts';
import type { BitmapRecipe } from '../raster/bitmap/bitmapRecipe.ts';
import type { BitPlane } from '../raster/bitPlane.ts';
import { findEdgeCells } from '../raster/edgeCells.ts';
import type { ToneImage } from '../raster/toneImage.ts';
import type { PaintedReport } from '../report/paintedReport.ts';
import { unpackBits } from './unpackBits.ts';
import { type EngineName, warmEngine } from './warmEngine.ts';

/** The pieces a job is cut into. Plain data, so that any of them can be handed to a worker thread. */
export interface TaskTable {
  warmEngine: { input: { engine: EngineName }; output: null };
  unpackBits: {
    input: { bytes: Uint8Array; recipe: BitmapRecipe; invert: boolean };
    output: BitPlane | { readonly damage: string; readonly truncated: boolean };
  };
  draw: { input: DrawPass; output: readonly DrawnPlate[] };
  measurePlate: {
    input: { plate: Plate; searchToMm: number; refineBelowMm: number; previewPx: number };
    output: { detail: Detail; opacity: Opacity; preview: ToneImage; edgeCells: BitPlane };
  };
  measureHalftone: { input: { plate: Plate }; output: Pick<Halftone, 'regions'> };
  measureOverlap: {
    input: {
      first: Plate;
      second: Plate;
      edgeCells: readonly [BitPlane, BitPlane];
      searchToMm: number;
      ignoreBoxes: readonly BoxMm[];
      screenedBoxes: readonly BoxMm[];
      covers: readonly Plate[];
    };
    output: Overlap | null;
  };
  measureUnderbase: {
    input: { base: Plate; tops: readonly Plate[]; searchToMm: number; ignoreBoxes: readonly BoxMm[] };
    output: UnderbaseFit;
  };
  measureMarks: { input: { plates: readonly Plate[] }; output: readonly PlateMarks[] };
  measureRegistration: {
    input: { marks: readonly PlateMarks[]; plates: readonly Plate[] };
    output: Registration | null;
  };
  archivePlate: { input: { plate: Plate }; output: PackedPlate };
  renderPdf: { input: PaintedReport; output: Uint8Array };
}

export type TaskName = keyof TaskTable;

export type Task = { [Name in TaskName]: { readonly name: Name; readonly input: TaskTable[Name]['input'] } }[TaskName];

/** Carries out one piece of work in the thread it is called in. */
export async function runTask(task: Task): Promise<TaskTable[TaskName]['output']> {
  switch (task.name) {
    case 'warmEngine':
      return warmEngine(task.input.engine);
    case 'unpackBits':
      return unpackBits(task.input);
    case 'draw':
      return drawPass(task.input);
    case 'measurePlate': {
      const { plate, searchToMm, refineBelowMm, previewPx } = task.input;
      return {
        detail: withTones(plate, measureDetail(plate, { searchToMm, refineBelowMm })),
        opacity: measureOpacity(plate),
        preview: previewPlate(plate, previewPx),
        edgeCells: findEdgeCells(plate.bits),
      };
    }
    case 'measureHalftone':
      return measureHalftone(task.input.plate);
    case 'measureOverlap': {
      const { first, second, ...options } = task.input;
      return measureOverlap(first, second, options);
    }
    case 'measureUnderbase': {
      const { base, tops, searchToMm, ignoreBoxes } = task.input;
      return measureUnderbase(base, tops, { searchToMm, ignoreBoxes });
    }
    case 'measureMarks':
      return measureMarks(task.input.plates);
    case 'measureRegistration':
      return measureRegistration(task.input.marks, task.input.plates);
    case 'archivePlate':
      return archivePlate(task.input.plate);
    case 'renderPdf':
      return (await import('../report/renderPdf.ts')).renderPdf(task.input);
  }
}
