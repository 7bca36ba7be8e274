import type { Plate } from '../plates/plate.ts';
import { coarsePitchMm } from '../raster/pixelGrid.ts';
import { ToneSampler } from '../raster/toneSampler.ts';
import type { NarrowPlace } from './detail.ts';
import { footTone, fromTone, halfTone, headTone, leftOpenPx, smoothedPx, toTone } from './softTones.ts';

/** A width at half tone, where a plate is cut into printing and clear, found between the pixels. */
export interface SoftWidth {
  readonly widthMm: number;
  /** Grows with softness: edges that are not sharp print wider or narrower as they are exposed. */
  readonly plusMinusMm: number;
  /** How far the softer edge reaches from a tenth of full tone to nine tenths, if it is softer than smoothing makes. */
  readonly softOverMm: number | null;
}

/** Steps along a section. */
const stepPx = 0.2;
/** Sections that are taken on either side, a pixel apart; their median counts. */
const sectionsBeside = 2;
const leastSections = 3;
/** Beyond its width a section reaches this much further. */
const furtherPx = 10;

/**
 * The width of a narrow place from the tones across it. Null where all is clear or opaque already, and where the tones
 * do not cross half tone on both sides.
 */
export function softWidthOf(plate: Plate, place: NarrowPlace, inverted: boolean): SoftWidth | null {
  const { tone, grid } = plate;
  if (tone === null || place.kind !== 'line') return null;
  const pitchMm = coarsePitchMm(grid);
  const reachMm = 0.75 * place.minWidthMm + furtherPx * pitchMm;
  const sampler = new ToneSampler(tone, grid, place.xMm, place.yMm, reachMm + (sectionsBeside + 1) * pitchMm);
  const across = directionAcross(sampler, place, pitchMm);
  const sections: Section[] = [];
  let isHard = true;
  for (let k = -sectionsBeside; k <= sectionsBeside; k++) {
    const profile: number[] = [];
    for (let t = -reachMm; t <= reachMm; t += stepPx * pitchMm) {
      const x = place.xMm + t * across.dx - k * pitchMm * across.dy;
      const y = place.yMm + t * across.dy + k * pitchMm * across.dx;
      const pixel = sampler.ofPixel(x, y);
      if (pixel > 0 && pixel < 255) isHard = false;
      const value = sampler.at(x, y);
      profile.push(inverted ? 255 - value : value);
    }
    const section = sectionOf(profile, stepPx * pitchMm, reachMm, place.minWidthMm / 2 + pitchMm, pitchMm);
    if (section !== null) sections.push(section);
  }
  if (isHard || sections.length < leastSections) return null;
  const widths = sections.map(({ widthMm }) => widthMm).sort((a, b) => a - b);
  const softOverMm = median(sections.map((section) => section.softOverMm));
  // The outermost two may lie beyond an end or in a crossing.
  const left = widths.length > 3 ? widths.slice(1, -1) : widths;
  const spreadMm = left[left.length - 1] - left[0];
  return {
    widthMm: median(widths),
    plusMinusMm: leftOpenPx * pitchMm + median(sections.map(({ openMm }) => openMm)) / 2 + spreadMm / 2,
    softOverMm: softOverMm > smoothedPx * pitchMm ? softOverMm : null,
  };
}

function median(values: readonly number[]): number {
  const sorted = values.toSorted((a, b) => a - b);
  const middle = sorted.length >> 1;
  return sorted.length % 2 === 1 ? sorted[middle] : (sorted[middle - 1] + sorted[middle]) / 2;
}

interface Section {
  readonly widthMm: number;
  /** How much the width changes between 40 and 60 %. */
  readonly openMm: number;
  readonly softOverMm: number;
}

/** A section with its tones from one side to the other, opaque in the middle. */
function sectionOf(
  profile: readonly number[],
  stepMm: number,
  reachMm: number,
  middleMm: number,
  pitchMm: number,
): Section | null {
  const centre = Math.round(reachMm / stepMm);
  const around = Math.min(centre, Math.ceil(middleMm / stepMm));
  let top = centre;
  for (let k = centre - around; k <= Math.min(profile.length - 1, centre + around); k++) {
    if (profile[k] > profile[top] || (profile[k] === profile[top] && Math.abs(k - centre) < Math.abs(top - centre)))
      top = k;
  }
  const cross = (tone: number, step: 1 | -1): number | null => {
    for (let k = top; k + step >= 0 && k + step < profile.length; k += step) {
      if (profile[k] >= tone && profile[k + step] < tone) {
        return k + (step * (profile[k] - tone)) / (profile[k] - profile[k + step]);
      }
    }
    return null;
  };
  const widthAt = (tone: number) => {
    const [back, ahead] = [cross(tone, -1), cross(tone, 1)];
    return back === null || ahead === null ? null : (ahead - back) * stepMm;
  };
  const atHalf = widthAt(halfTone);
  const atFrom = widthAt(fromTone);
  if (atHalf === null || atFrom === null) return null;
  const openMm = atFrom - (widthAt(toTone) ?? 0);
  const softnessOf = (step: 1 | -1) => {
    const foot = cross(footTone, step);
    const head = cross(Math.min(headTone, profile[top]), step);
    return foot === null || head === null ? 2 * reachMm : Math.abs(foot - head) * stepMm;
  };
  const [back, ahead] = [softnessOf(-1), softnessOf(1)];
  const softOverMm = Math.max(back, ahead);
  const isSmoothed = profile[top] > headTone && softOverMm <= smoothedPx * pitchMm;
  const area = isSmoothed ? areaBetween(profile, cross(footTone, -1)!, cross(footTone, 1)!, pitchMm / stepMm) : null;
  return { widthMm: area === null ? atHalf : area * stepMm, openMm, softOverMm };
}

/**
 * Where a renderer has smoothed a sharp edge, a pixel is as dark as it is covered: the tones add up to the width, in
 * steps. A pixel beyond the feet is taken in.
 */
function areaBetween(profile: readonly number[], from: number, to: number, pixel: number): number {
  let sum = 0;
  const last = Math.min(profile.length - 1, Math.ceil(to + pixel));
  for (let k = Math.max(0, Math.floor(from - pixel)); k <= last; k++) sum += profile[k] / 255;
  return sum;
}

/** The direction in which tones change most around a place: that of the largest mean square of the slope. */
function directionAcross(sampler: ToneSampler, place: NarrowPlace, pitchMm: number): { dx: number; dy: number } {
  const reachPx = Math.ceil(place.minWidthMm / 2 / pitchMm) + 2;
  let [xx, xy, yy] = [0, 0, 0];
  for (let row = -reachPx; row <= reachPx; row++) {
    for (let column = -reachPx; column <= reachPx; column++) {
      if (Math.hypot(row, column) > reachPx) continue;
      const x = place.xMm + column * pitchMm;
      const y = place.yMm + row * pitchMm;
      const slopeX = sampler.at(x + pitchMm / 2, y) - sampler.at(x - pitchMm / 2, y);
      const slopeY = sampler.at(x, y + pitchMm / 2) - sampler.at(x, y - pitchMm / 2);
      xx += slopeX * slopeX;
      xy += slopeX * slopeY;
      yy += slopeY * slopeY;
    }
  }
  const angle = Math.atan2(2 * xy, xx - yy) / 2;
  return { dx: Math.cos(angle), dy: Math.sin(angle) };
}
