import type { PointMm } from '../geometry/box.ts';
import type { Plate } from '../plates/plate.ts';
import type { Mark } from './marks.ts';
import { fitRing } from './marksRing.ts';
import type { ShapedMark } from './marksShape.ts';
import { cutBox, type MarkWindow } from './marksWindow.ts';

/** What a look at the place of another plate's mark showed. */
export type Look =
  | { readonly seen: 'mark'; readonly mark: Mark }
  | { readonly seen: 'nothing' }
  | { readonly seen: 'cover'; readonly why: string };

/** Points of the mark about its centre, mm: on its ink, and beside it where it has clear film. */
interface Probe {
  readonly inkX: number[];
  readonly inkY: number[];
  readonly inkSector: number[];
  readonly clearX: number[];
  readonly clearY: number[];
  readonly clearSector: number[];
}

/** Marks of two plates this near each other are the same mark. */
export const samePlaceMm = 1.5;

const mostPoints = 1600;
const sectors = 8;
const inkNeeded = 0.9;
const contrastNeeded = 0.6;
const sectorsNeeded = 3;
const coveredShare = 0.4;

/**
 * Looks on a plate for the mark another plate has, no further from a place than `withinMm`. A mark partly
 * overprinted is found by the parts that stand free. Solid ink over the place hides it: that is not a missing mark.
 */
export function lookForMark(found: ShapedMark, plate: Plate, at: PointMm, withinMm: number): Look {
  const { grid } = plate;
  const { xMm, yMm } = at;
  const { sizeMm } = found.mark;
  const halfMm = sizeMm / 2;
  const reachMm = sizeMm + withinMm + 1;
  const window = cutBox(
    plate.bits,
    grid,
    Math.floor((xMm - reachMm) / grid.pitchXMm),
    Math.floor((yMm - reachMm) / grid.pitchYMm),
    Math.ceil((xMm + reachMm) / grid.pitchXMm),
    Math.ceil((yMm + reachMm) / grid.pitchYMm),
  );
  const filmRightMm = grid.widthPx * grid.pitchXMm;
  const filmBottomMm = grid.heightPx * grid.pitchYMm;
  const reachesOut = xMm - halfMm < 0 || yMm - halfMm < 0 || xMm + halfMm > filmRightMm || yMm + halfMm > filmBottomMm;
  if (window === null || xMm < 0 || yMm < 0 || xMm > filmRightMm || yMm > filmBottomMm) {
    return { seen: 'cover', why: 'the place lies outside this film' };
  }
  if (!reachesOut && !window.ink.includes(1)) return { seen: 'nothing' };
  const probe = probeOf(found);
  const best = bestPlace(probe, window, grid.pitchXMm, grid.pitchYMm, xMm, yMm, withinMm);
  const reading = readProbe(probe, window, grid.pitchXMm, grid.pitchYMm, best.xMm, best.yMm);
  if (reading.inkShare >= inkNeeded && reading.freeSectors >= sectorsNeeded) {
    return { seen: 'mark', mark: refined(found, window, grid.pitchXMm, grid.pitchYMm, best.xMm, best.yMm) };
  }
  const here = readProbe(probe, window, grid.pitchXMm, grid.pitchYMm, xMm, yMm);
  if ((here.inkShare + here.clearInkShare) / 2 >= coveredShare) {
    return { seen: 'cover', why: 'other ink covers the place' };
  }
  if (reachesOut) return { seen: 'cover', why: 'the edge of the film cuts the place' };
  return { seen: 'nothing' };
}

function probeOf(found: ShapedMark): Probe {
  const { window, column, row } = found;
  const { width, height, ink } = window;
  const pitchXMm = window.pitchMm / Math.max(1, window.aspect);
  const pitchYMm = pitchXMm * window.aspect;
  const inkPoints: number[] = [];
  const clearPoints: number[] = [];
  const anyInk = (c: number, r: number, reach: number): boolean => {
    for (let rr = Math.max(0, r - reach); rr <= Math.min(height - 1, r + reach); rr++) {
      for (let cc = Math.max(0, c - reach); cc <= Math.min(width - 1, c + reach); cc++) {
        if (ink[rr * width + cc] === 1) return true;
      }
    }
    return false;
  };
  for (let r = 0; r < height; r++) {
    for (let c = 0; c < width; c++) {
      if (ink[r * width + c] === 1) inkPoints.push(r * width + c);
      else if (!anyInk(c, r, 2) && anyInk(c, r, 4)) clearPoints.push(r * width + c);
    }
  }
  const thin = (points: number[]): [number[], number[], number[]] => {
    const step = Math.max(1, points.length / mostPoints);
    const xs: number[] = [];
    const ys: number[] = [];
    const of: number[] = [];
    for (let i = 0; i < points.length; i += step) {
      const point = points[Math.floor(i)];
      const x = ((point % width) + 0.5 - column) * pitchXMm;
      const y = (Math.floor(point / width) + 0.5 - row) * pitchYMm;
      xs.push(x);
      ys.push(y);
      // Each arm lies in the middle of a sector.
      of.push(Math.floor((Math.atan2(y, x) / (2 * Math.PI) + 1 + 0.5 / sectors) * sectors) % sectors);
    }
    return [xs, ys, of];
  };
  const [inkX, inkY, inkSector] = thin(inkPoints);
  const [clearX, clearY, clearSector] = thin(clearPoints);
  return { inkX, inkY, inkSector, clearX, clearY, clearSector };
}

function inkAtMm(window: MarkWindow, pitchXMm: number, pitchYMm: number, xMm: number, yMm: number): number {
  const c = Math.floor(xMm / pitchXMm) - window.left;
  const r = Math.floor(yMm / pitchYMm) - window.top;
  return c < 0 || r < 0 || c >= window.width || r >= window.height ? 0 : window.ink[r * window.width + c];
}

function bestPlace(
  probe: Probe,
  window: MarkWindow,
  pitchXMm: number,
  pitchYMm: number,
  xMm: number,
  yMm: number,
  withinMm: number,
): { xMm: number; yMm: number } {
  const score = (x: number, y: number, every: number): number => {
    let ink = 0;
    let inkCount = 0;
    for (let i = 0; i < probe.inkX.length; i += every) {
      ink += inkAtMm(window, pitchXMm, pitchYMm, x + probe.inkX[i], y + probe.inkY[i]);
      inkCount++;
    }
    let clear = 0;
    let clearCount = 0;
    for (let i = 0; i < probe.clearX.length; i += every) {
      clear += inkAtMm(window, pitchXMm, pitchYMm, x + probe.clearX[i], y + probe.clearY[i]);
      clearCount++;
    }
    return ink / Math.max(1, inkCount) - clear / Math.max(1, clearCount);
  };
  let best = { xMm, yMm, score: -Infinity };
  const search = (aboutX: number, aboutY: number, reachMm: number, stepPx: number, every: number): void => {
    const across = Math.ceil(reachMm / (stepPx * pitchXMm));
    const down = Math.ceil(reachMm / (stepPx * pitchYMm));
    best = { xMm: aboutX, yMm: aboutY, score: -Infinity };
    for (let j = -down; j <= down; j++) {
      for (let i = -across; i <= across; i++) {
        const x = aboutX + i * stepPx * pitchXMm;
        const y = aboutY + j * stepPx * pitchYMm;
        const s = score(x, y, every);
        if (s > best.score) best = { xMm: x, yMm: y, score: s };
      }
    }
  };
  search(xMm, yMm, withinMm, 2, 6);
  const coarse = best;
  search(coarse.xMm, coarse.yMm, 3 * Math.max(pitchXMm, pitchYMm), 1, 1);
  const fine = best;
  // Sub-pixel: the middle of the places that score nearly as well.
  let sum = 0;
  let sumX = 0;
  let sumY = 0;
  for (let j = -6; j <= 6; j++) {
    for (let i = -6; i <= 6; i++) {
      const x = fine.xMm + (i / 4) * pitchXMm;
      const y = fine.yMm + (j / 4) * pitchYMm;
      const weight = score(x, y, 2) - fine.score + 0.05;
      if (weight <= 0) continue;
      sum += weight;
      sumX += weight * x;
      sumY += weight * y;
    }
  }
  return sum > 0 ? { xMm: sumX / sum, yMm: sumY / sum } : fine;
}

function readProbe(
  probe: Probe,
  window: MarkWindow,
  pitchXMm: number,
  pitchYMm: number,
  xMm: number,
  yMm: number,
): { inkShare: number; clearInkShare: number; freeSectors: number } {
  const ink = new Float64Array(sectors);
  const inkCount = new Float64Array(sectors);
  const clear = new Float64Array(sectors);
  const clearCount = new Float64Array(sectors);
  let inkSum = 0;
  let clearSum = 0;
  for (let i = 0; i < probe.inkX.length; i++) {
    const value = inkAtMm(window, pitchXMm, pitchYMm, xMm + probe.inkX[i], yMm + probe.inkY[i]);
    ink[probe.inkSector[i]] += value;
    inkCount[probe.inkSector[i]]++;
    inkSum += value;
  }
  for (let i = 0; i < probe.clearX.length; i++) {
    const value = inkAtMm(window, pitchXMm, pitchYMm, xMm + probe.clearX[i], yMm + probe.clearY[i]);
    clear[probe.clearSector[i]] += value;
    clearCount[probe.clearSector[i]]++;
    clearSum += value;
  }
  let freeSectors = 0;
  let sectorsWithInk = 0;
  for (let s = 0; s < sectors; s++) {
    if (inkCount[s] === 0 || clearCount[s] === 0) continue;
    sectorsWithInk++;
    if (ink[s] / inkCount[s] - clear[s] / clearCount[s] >= contrastNeeded) freeSectors++;
  }
  return {
    inkShare: inkSum / Math.max(1, probe.inkX.length),
    clearInkShare: clearSum / Math.max(1, probe.clearX.length),
    // A corner has ink in few sectors: then all of those must stand free.
    freeSectors: sectorsWithInk < sectorsNeeded && freeSectors === sectorsWithInk ? sectorsNeeded : freeSectors,
  };
}

/** The mark at a place found by comparing, its centre from its own ring where enough of that stands free. */
function refined(
  found: ShapedMark,
  window: MarkWindow,
  pitchXMm: number,
  pitchYMm: number,
  xMm: number,
  yMm: number,
): Mark {
  const plain: Mark = { ...found.mark, xMm, yMm, plusMinusMm: window.pitchMm };
  if (found.ring === null) return plain;
  const foundPitchXMm = found.window.pitchMm / Math.max(1, found.window.aspect);
  const scale = foundPitchXMm / pitchXMm;
  const armPx = found.mark.lineWeightMm / pitchXMm;
  const ring = fitRing(
    window,
    xMm / pitchXMm - window.left,
    yMm / pitchYMm - window.top,
    armPx,
    found.ring.radiusPx * scale + armPx / 2,
    Math.max(3, armPx),
  );
  if (ring === null || ring.scatterPx > 0.8) return plain;
  const refinedX = (window.left + ring.column) * pitchXMm;
  const refinedY = (window.top + ring.row) * pitchYMm;
  if (Math.hypot(refinedX - xMm, refinedY - yMm) > 3 * window.pitchMm) return plain;
  return { ...plain, xMm: refinedX, yMm: refinedY, plusMinusMm: 0.3 * window.pitchMm };
}
