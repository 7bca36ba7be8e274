import type { PointMm } from '../geometry/box.ts';
import type { BitPlane } from '../raster/bitPlane.ts';
import type { PixelGrid } from '../raster/pixelGrid.ts';
import type { Mark } from './marks.ts';
import { fitRing } from './marksRing.ts';
import type { ShapedMark } from './marksShaped.ts';
import { cutBox, type MarkWindow } from './marksWindow.ts';
import type { Fit } from './registrationFit.ts';

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
const inkNeeded = 0.88;
const contrastNeeded = 0.6;
const sectorsNeeded = 3;
const coveredShare = 0.4;

/**
 * Looks on a plate for the mark another plate has, no further from a place than `withinMm`. A mark partly overprinted
 * is found by the parts that stand free. Solid ink over the place hides it: that is not a missing mark. `turned` says
 * how the other plate lies turned and stretched to this one.
 */
export function lookForMark(
  found: ShapedMark,
  bits: BitPlane,
  grid: PixelGrid,
  at: PointMm,
  withinMm: number,
  turned: Turned,
): Look {
  const { xMm, yMm } = at;
  const { sizeMm } = found.mark;
  const halfMm = sizeMm / 2;
  const reachMm = sizeMm + withinMm + 1;
  const { reversed } = found.window;
  const window = cutBox(
    bits,
    grid,
    Math.floor((xMm - reachMm) / grid.pitchXMm),
    Math.floor((yMm - reachMm) / grid.pitchYMm),
    Math.ceil((xMm + reachMm) / grid.pitchXMm),
    Math.ceil((yMm + reachMm) / grid.pitchYMm),
    reversed,
  );
  const filmRightMm = grid.widthPx * grid.pitchXMm;
  const filmBottomMm = grid.heightPx * grid.pitchYMm;
  const reachesOut = xMm - halfMm < 0 || yMm - halfMm < 0 || xMm + halfMm > filmRightMm || yMm + halfMm > filmBottomMm;
  if (window === null || xMm < 0 || yMm < 0 || xMm > filmRightMm || yMm > filmBottomMm) {
    return { seen: 'cover', why: 'the place lies outside this film' };
  }
  if (!reachesOut && !window.ink.includes(1)) return reversed ? hidden : { seen: 'nothing' };
  const probe = probeOf(found, turned);
  const best = bestPlace(probe, window, grid.pitchXMm, grid.pitchYMm, xMm, yMm, withinMm, found.mark.lineWeightMm);
  const reading = readProbe(probe, window, grid.pitchXMm, grid.pitchYMm, best.xMm, best.yMm);
  if (reading.inkShare >= inkNeeded && reading.freeSectors >= sectorsNeeded) {
    return { seen: 'mark', mark: refined(found, window, grid.pitchXMm, grid.pitchYMm, best.xMm, best.yMm) };
  }
  const here = readProbe(probe, window, grid.pitchXMm, grid.pitchYMm, xMm, yMm);
  const inked = (here.inkShare + here.clearInkShare) / 2;
  if ((reversed ? 1 - inked : inked) >= coveredShare && !(reversed && inked > 0.8)) return hidden;
  if (reachesOut) return { seen: 'cover', why: 'the edge of the film cuts the place' };
  return { seen: 'nothing' };
}

const hidden: Look = { seen: 'cover', why: 'other ink covers the place' };

/** The part of a fit that turns and stretches. */
export type Turned = Pick<Fit, 'a' | 'b' | 'c' | 'd'>;

function probeOf(found: ShapedMark, turned: Turned): Probe {
  const { window, column, row } = found;
  const { width, height, ink, seen } = window;
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
  for (let r = seen.fromRow; r < seen.toRow; r++) {
    for (let c = seen.fromColumn; c < seen.toColumn; c++) {
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
      xs.push(turned.a * x + turned.c * y);
      ys.push(turned.b * x + turned.d * y);
      // Each arm lies in the middle of a sector.
      of.push(Math.floor((Math.atan2(y, x) / (2 * Math.PI) + 1 + 0.5 / sectors) * sectors) % sectors);
    }
    return [xs, ys, of];
  };
  const [inkX, inkY, inkSector] = thin(inkPoints);
  const [clearX, clearY, clearSector] = thin(clearPoints);
  return { inkX, inkY, inkSector, clearX, clearY, clearSector };
}

/** Ink at a place, -1 beyond the window: the window ends at the film's edge, and nothing is known there. */
function inkAtMm(window: MarkWindow, pitchXMm: number, pitchYMm: number, xMm: number, yMm: number): number {
  const c = Math.floor(xMm / pitchXMm) - window.left;
  const r = Math.floor(yMm / pitchYMm) - window.top;
  return c < 0 || r < 0 || c >= window.width || r >= window.height ? -1 : window.ink[r * window.width + c];
}

/** Ink within half a pixel of a place: lines of two pixels fall on others on each film. */
function inkNearMm(window: MarkWindow, pitchXMm: number, pitchYMm: number, xMm: number, yMm: number): number {
  let most = -1;
  for (const dy of [-0.5, 0.5]) {
    for (const dx of [-0.5, 0.5]) {
      most = Math.max(most, inkAtMm(window, pitchXMm, pitchYMm, xMm + dx * pitchXMm, yMm + dy * pitchYMm));
    }
  }
  return most;
}

function bestPlace(
  probe: Probe,
  window: MarkWindow,
  pitchXMm: number,
  pitchYMm: number,
  xMm: number,
  yMm: number,
  withinMm: number,
  lineWeightMm: number,
): { xMm: number; yMm: number } {
  const score = (x: number, y: number, every: number): number => {
    let ink = 0;
    let inkCount = 0;
    for (let i = 0; i < probe.inkX.length; i += every) {
      const value = inkAtMm(window, pitchXMm, pitchYMm, x + probe.inkX[i], y + probe.inkY[i]);
      if (value < 0) continue;
      ink += value;
      inkCount++;
    }
    let clear = 0;
    let clearCount = 0;
    for (let i = 0; i < probe.clearX.length; i += every) {
      const value = inkAtMm(window, pitchXMm, pitchYMm, x + probe.clearX[i], y + probe.clearY[i]);
      if (value < 0) continue;
      clear += value;
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
  const stepPx = Math.max(1, Math.floor((0.4 * lineWeightMm) / Math.max(pitchXMm, pitchYMm)));
  search(xMm, yMm, withinMm, stepPx, 6);
  const coarse = best;
  search(coarse.xMm, coarse.yMm, 1.5 * stepPx * Math.max(pitchXMm, pitchYMm), 1, 2);
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
  let inkSeen = 0;
  let clearSeen = 0;
  for (let i = 0; i < probe.inkX.length; i++) {
    const value = inkNearMm(window, pitchXMm, pitchYMm, xMm + probe.inkX[i], yMm + probe.inkY[i]);
    if (value < 0) continue;
    inkSeen++;
    ink[probe.inkSector[i]] += value;
    inkCount[probe.inkSector[i]]++;
    inkSum += value;
  }
  for (let i = 0; i < probe.clearX.length; i++) {
    const value = inkAtMm(window, pitchXMm, pitchYMm, xMm + probe.clearX[i], yMm + probe.clearY[i]);
    if (value < 0) continue;
    clearSeen++;
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
    inkShare: inkSum / Math.max(1, inkSeen),
    clearInkShare: clearSum / Math.max(1, clearSeen),
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
  const plain: Mark = { ...found.mark, xMm, yMm, plusMinusMm: window.pitchMm, artDistanceMm: null };
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
