import type { PointMm } from '../geometry/box.ts';
import type { Plate } from '../plates/plate.ts';
import { bitAt } from '../raster/bitPlane.ts';
import { squaredDistances } from '../raster/distanceMap.ts';
import { EdgeFinder } from '../raster/edgeDistance.ts';
import { coarsePitchMm, type PixelGrid } from '../raster/pixelGrid.ts';
import { readWindow } from '../raster/window.ts';
import { type FittedWidth, fitPlainWidth } from './detailFit.ts';
import { fitTightWidth } from './detailTight.ts';

/** How broad black or clear film is at a place: the largest disc of it that holds the place. */
export interface LocalWidth {
  readonly widthMm: number;
  readonly plusMinusMm: number;
  /** Middle of the disc. */
  readonly xMm: number;
  readonly yMm: number;
  /** Direction of the stretch it lies in, counter-clockwise from the x axis as seen, 0 ≤ a < 180. */
  readonly directionDeg: number;
}

/** What of a plate widths are read from; a part of one does. */
export type PlateBits = Pick<Plate, 'grid' | 'bits'>;

/** The widths round a point; null where none of a kind is met within the search, or it is broader than was searched. */
export interface WidthsAt {
  readonly at: 'black' | 'clear';
  readonly black: LocalWidth | null;
  readonly clear: LocalWidth | null;
}

/** A fit along the edges that differs by more than this from the disc has followed something else. */
const mostDifferencePx = 0.75;
/** Fits of one place that differ by no more than this are of the same edges. */
const alikePx = 0.25;
/** How well a disc alone tells a width, from one pixel centre to another. */
const discPlusMinusPx = 1.75;
/** The lie of a stretch is told by what lies within three widths of it, and some pixels where it is thin. */
const lieReach = 4;
const leastLiePx = 4;
/** A shape that is hardly longer than broad lies no way. */
const leastLieRatio = 1.5;
const straightSteps = [
  [1, 0],
  [-1, 0],
  [0, 1],
  [0, -1],
] as const;
const allSteps = [...straightSteps, [1, 1], [1, -1], [-1, 1], [-1, -1]] as const;

/**
 * The widths of black and of clear film round a point: of what lies at the point itself, and of the other at its nearest
 * place. Film beyond the plate is clear. Looks at a window of twice the search and no further, so that it takes as long
 * on a large plate as on a small one.
 */
export function widthsAt(plate: PlateBits, point: PointMm, searchToMm: number): WidthsAt {
  const { grid, bits } = plate;
  const column = Math.floor(point.xMm / grid.pitchXMm);
  const row = Math.floor(point.yMm / grid.pitchYMm);
  const isBlack = bitAt(bits, column, row) === 1;
  const rowPitch = grid.pitchYMm / grid.pitchXMm;
  const own = new EdgeFinder(bits, !isBlack, rowPitch);
  const here = widthHolding(plate, own, column, row, !isBlack, searchToMm);
  const searchPx = searchToMm / grid.pitchXMm;
  let there: LocalWidth | null = null;
  if (own.nearest(column, row, searchPx) !== Infinity) {
    const otherColumn = column + own.offsetColumn;
    const otherRow = row + own.offsetRow;
    const other = new EdgeFinder(bits, isBlack, rowPitch);
    there = widthHolding(plate, other, otherColumn, otherRow, isBlack, searchToMm);
  }
  return isBlack ? { at: 'black', black: here, clear: there } : { at: 'clear', black: there, clear: here };
}

/** The largest disc of a shape that holds a pixel of it; null when it is larger than was searched for. */
function widthHolding(
  plate: PlateBits,
  finder: EdgeFinder,
  column: number,
  row: number,
  inverted: boolean,
  searchToMm: number,
): LocalWidth | null {
  const { grid, bits } = plate;
  const rowPitch = grid.pitchYMm / grid.pitchXMm;
  const searchPx = searchToMm / grid.pitchXMm;
  const acrossPx = Math.ceil(searchPx) + 2;
  const downPx = Math.ceil(searchPx / rowPitch) + 2;
  const widthPx = 2 * acrossPx + 1;
  const heightPx = 2 * downPx + 1;
  const window = readWindow(bits, column - acrossPx, row - downPx, widthPx, heightPx);
  if (inverted) for (let k = 0; k < window.length; k++) window[k] ^= 1;
  const squared = squaredDistances(window, widthPx, heightPx, rowPitch);
  // Half a pixel short of the first pixel off the shape lies its edge.
  const mostPx = searchPx / 2 + 0.5;
  let best = -1;
  let bestSquared = 0;
  for (let y = 0; y < heightPx; y++) {
    const down = (y - downPx) * rowPitch;
    if (Math.abs(down) > mostPx) continue;
    for (let x = 0; x < widthPx; x++) {
      const at = y * widthPx + x;
      if (squared[at] <= bestSquared) continue;
      // The disc reaches half a pixel less far, but a pixel that it touches is held by it.
      if ((x - acrossPx) ** 2 + down * down > squared[at]) continue;
      best = at;
      bestSquared = squared[at];
    }
  }
  if (best < 0 || Math.sqrt(bestSquared) > mostPx + 1) return null;
  const centreColumn = column + (best % widthPx) - acrossPx;
  const centreRow = row + Math.floor(best / widthPx) - downPx;
  const lie = lieOf({ window, widthPx, heightPx, rowPitch }, best, Math.sqrt(bestSquared), inverted);
  // Between whole pixels a disc may be up to a pixel larger than one round a pixel's centre.
  const discPx = 2 * Math.sqrt(bestSquared) - 0.5;
  return widthAround(finder, centreColumn, centreRow, lie, discPx, grid, searchToMm);
}

/** The width at the middle of a disc, from the edges to both sides of it over some length. */
function widthAround(
  finder: EdgeFinder,
  column: number,
  row: number,
  lie: Direction | null,
  discPx: number,
  grid: PixelGrid,
  searchToMm: number,
): LocalWidth | null {
  const rowPitch = grid.pitchYMm / grid.pitchXMm;
  const searchPx = searchToMm / grid.pitchXMm;
  if (finder.nearest(column, row, searchPx + 3) === Infinity) return null;
  // Square to the way to the nearest edge, when the shape itself does not say how it lies, or lies bent.
  const edgeLie = { dx: -finder.offsetRow * rowPitch, dy: finder.offsetColumn };
  const { dx, dy } = lie ?? edgeLie;
  let fit: FittedWidth | null = null;
  for (const along of lie === null ? [edgeLie] : [lie, edgeLie]) {
    for (const fitWidth of [fitPlainWidth, fitTightWidth]) {
      const one = fitWidth(
        finder,
        column + 0.5,
        row + 0.5,
        along.dx,
        along.dy / rowPitch,
        rowPitch,
        1.5 * searchPx + 4,
      );
      if (one === null || Math.abs(one.widthPx - discPx) > mostDifferencePx) continue;
      fit = fit === null ? one : surer(fit, one);
    }
  }
  const widthMm = Math.max(0, fit?.widthPx ?? discPx) * grid.pitchXMm;
  if (widthMm > searchToMm) return null;
  const degrees = (Math.atan2(-dy, dx) * 180) / Math.PI;
  const turned = ((degrees % 180) + 180) % 180;
  return {
    widthMm,
    plusMinusMm: fit !== null ? fit.plusMinusPx * grid.pitchXMm : discPlusMinusPx * coarsePitchMm(grid),
    xMm: (column + 0.5) * grid.pitchXMm,
    yMm: (row + 0.5) * grid.pitchYMm,
    directionDeg: turned >= 180 ? 0 : turned,
  };
}

/** The better of two fits at one place; its error bar takes in the other where they differ. */
function surer(one: FittedWidth, other: FittedWidth): FittedWidth {
  const [best, rest] = other.plusMinusPx < one.plusMinusPx ? [other, one] : [one, other];
  const apartPx = Math.abs(best.widthPx - rest.widthPx);
  return apartPx <= alikePx ? best : { ...best, plusMinusPx: apartPx + rest.plusMinusPx };
}

/** In units of a pixel's width, y down. */
interface Direction {
  readonly dx: number;
  readonly dy: number;
}

interface Look {
  readonly window: Uint8Array;
  readonly widthPx: number;
  readonly heightPx: number;
  readonly rowPitch: number;
}

/**
 * How the shape lies around the middle of a disc: the axis of what of it hangs together within some widths. Null when it
 * lies no way more than another.
 */
function lieOf(look: Look, start: number, radiusPx: number, inverted: boolean): Direction | null {
  const { window, widthPx, heightPx, rowPitch } = look;
  const steps = inverted ? straightSteps : allSteps;
  const seen = new Uint8Array(window.length);
  const [middleX, middleY] = [start % widthPx, Math.floor(start / widthPx)];
  // As far to every side: what the window cuts off on one would turn the axis.
  const roomPx = Math.min(middleX, widthPx - 1 - middleX, middleY * rowPitch, (heightPx - 1 - middleY) * rowPitch);
  const reachPx = Math.min(roomPx, lieReach * radiusPx + leastLiePx);
  const pending = [start];
  seen[start] = 1;
  let [count, sumX, sumY, xx, xy, yy] = [0, 0, 0, 0, 0, 0];
  for (let at = pending.pop(); at !== undefined; at = pending.pop()) {
    const column = at % widthPx;
    const row = (at - column) / widthPx;
    const x = column - middleX;
    const y = (row - middleY) * rowPitch;
    count++;
    sumX += x;
    sumY += y;
    xx += x * x;
    xy += x * y;
    yy += y * y;
    for (const [right, down] of steps) {
      const [nextColumn, nextRow] = [column + right, row + down];
      if (nextColumn < 0 || nextRow < 0 || nextColumn >= widthPx || nextRow >= heightPx) continue;
      const next = nextRow * widthPx + nextColumn;
      if (seen[next] === 1 || window[next] === 0) continue;
      if (Math.hypot(nextColumn - middleX, (nextRow - middleY) * rowPitch) > reachPx) continue;
      seen[next] = 1;
      pending.push(next);
    }
  }
  const [spreadX, spreadY] = [xx - (sumX * sumX) / count, yy - (sumY * sumY) / count];
  const spreadXy = xy - (sumX * sumY) / count;
  const long = (spreadX + spreadY) / 2 + Math.hypot((spreadX - spreadY) / 2, spreadXy);
  const short = spreadX + spreadY - long;
  if (long < leastLieRatio * short) return null;
  const angle = Math.atan2(2 * spreadXy, spreadX - spreadY) / 2;
  return { dx: Math.cos(angle), dy: Math.sin(angle) };
}
