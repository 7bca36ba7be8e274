import type { TurnedFlags } from '../tilesOnCells.ts';
import { type Kernels, Layout } from './kernelModule.ts';

/** `tilesOnCellsPlain`. */
export function tilesOnCellsByKernel(
  kernels: Kernels,
  cells: TurnedFlags,
  perRow: number,
  rows: number,
  places: Float64Array,
): Uint8Array {
  const { acrossU, downU, atU, acrossV, downV, atV, left, top, columns, flags } = cells;
  const layout = new Layout(kernels);
  const flagsAt = layout.take(flags.length);
  const turnsAt = layout.take(8 * 6);
  const placesAt = layout.take(8 * places.length);
  const foundAt = layout.take(perRow * rows);
  const { buffer } = kernels.memory;
  new Uint8Array(buffer, flagsAt, flags.length).set(flags);
  new Float64Array(buffer, turnsAt, 6).set([acrossU, downU, atU, acrossV, downV, atV]);
  new Float64Array(buffer, placesAt, places.length).set(places);
  kernels.tilesOnCells(
    turnsAt,
    left,
    top,
    columns,
    cells.rows,
    flagsAt,
    perRow,
    rows,
    placesAt,
    places.length / 2,
    foundAt,
  );
  return new Uint8Array(buffer, foundAt, perRow * rows).slice();
}
