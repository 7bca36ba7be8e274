import type { BitPlane } from '../raster/bitPlane.ts';
import { visitComponents } from '../raster/components.ts';
import { GrowingInts } from '../raster/growingList.ts';

/** Small connected parts of a plate, one a number: only where and how large they are. */
export interface Spots {
  readonly count: number;
  /** First pixel of each in reading order; its row is the top of the box. */
  readonly columns: Int32Array;
  readonly rows: Int32Array;
  readonly areasPx: Int32Array;
  readonly lefts: Int32Array;
  readonly widths: Int32Array;
  readonly heights: Int32Array;
}

/**
 * Collects the connected parts whose box is at most `mostPx` columns wide and as many high on film: black ones
 * (8-connected), with `inverted` clear ones (4-connected) that do not reach the film's edge.
 */
export function collectSpots(plane: BitPlane, inverted: boolean, mostPx: number, rowPitch: number): Spots {
  const columns = new GrowingInts();
  const rows = new GrowingInts();
  const areasPx = new GrowingInts();
  const lefts = new GrowingInts();
  const widths = new GrowingInts();
  const heights = new GrowingInts();
  const connectivity = inverted ? 4 : 8;
  const size = { mostColumns: mostPx, mostRows: mostPx / rowPitch };
  const options = { inverted, connectivity, ...size, moments: false } as const;
  visitComponents(plane, options, (part) => {
    const width = part.right - part.left;
    const height = part.bottom - part.top;
    const atEdge = part.left === 0 || part.top === 0 || part.right === plane.widthPx || part.bottom === plane.heightPx;
    if (inverted && atEdge) return;
    columns.push(part.firstColumn);
    rows.push(part.top);
    areasPx.push(part.areaPx);
    lefts.push(part.left);
    widths.push(width);
    heights.push(height);
  });
  const trimmed = (list: GrowingInts) => list.values.subarray(0, list.length);
  return {
    count: columns.length,
    columns: trimmed(columns),
    rows: trimmed(rows),
    areasPx: trimmed(areasPx),
    lefts: trimmed(lefts),
    widths: trimmed(widths),
    heights: trimmed(heights),
  };
}
