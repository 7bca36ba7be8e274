import { describe, expect, it } from 'vitest';
import { type Beat, isQuarterSymmetric, type Ruling } from '../../src/mesh/beat.ts';
import { dotSpectrum } from '../../src/mesh/dotSpectrum.ts';
import { meshBeats } from '../../src/mesh/meshBeats.ts';
import { meshByFormula } from '../../src/mesh/meshGeometry.ts';
import { type DrawnShape, type FoundBeat, printedPattern, strongestRepeat } from '../support/printedBeats.ts';
import { seededRandom } from '../support/seededRandom.ts';

const [fromMm, toMm] = [1, 4];
const shapes: readonly DrawnShape[] = ['round', 'line', 'elliptical', 'euclidean', 'diamond', 'square'];
const meshes = [
  [43, 80],
  [54, 64],
  [62, 64],
  [77, 55],
  [90, 48],
  [100, 40],
  [120, 34],
  [140, 34],
] as const;
const caseCount = 60;
/** Coarser halftones repeat within the range themselves. */
const coarsestLpi = 32;
/** What a patch of 20 mm tells apart, cycles a mm. */
const apartPerMm = 0.2;

interface Case {
  readonly ruling: Ruling & { readonly dotForm: DrawnShape };
  readonly tone: number;
  readonly mesh: readonly [number, number];
  readonly phases: readonly [number, number, number, number];
  readonly inRange: readonly Beat[];
}

/**
 * Settings at random whose strongest beat can be told in a patch of 20 mm: none comparable lies at the ends of the range,
 * or so near to it that the patch shows both as one.
 */
function drawCases(seed: number): Case[] {
  const random = seededRandom(seed);
  const cases: Case[] = [];
  while (cases.length < caseCount) {
    const dotForm = shapes[cases.length % shapes.length];
    const mesh = meshes[Math.floor(random() * meshes.length)];
    const rulingLpi = (mesh[0] * 2.54) / (2.5 + 5 * random());
    if (rulingLpi < coarsestLpi) continue;
    const ruling = { rulingLpi, angleDeg: 180 * random(), dotForm };
    const tone = 0.1 + 0.65 * random();
    const phases = [random(), random(), random(), random()] as const;
    const beats = meshBeats(ruling, dotSpectrum(dotForm, [100 * tone]), meshByFormula(mesh[0], mesh[1]));
    const inRange = beats.filter(({ periodMm }) => periodMm >= fromMm && periodMm <= toMm);
    if (inRange.length === 0 || inRange[0].modulationPercent < 0.5) continue;
    const atEnds = beats.some(
      ({ periodMm, modulationPercent }) =>
        modulationPercent > 0.3 * inRange[0].modulationPercent &&
        ((periodMm > fromMm * 0.92 && periodMm < fromMm * 1.02) || periodMm > toMm * 0.97),
    );
    const [strongest] = inRange;
    const others = beats.filter((beat) => beat !== strongest);
    const isAlone = others.every(
      (other) =>
        other.modulationPercent < 0.05 * strongest.modulationPercent ||
        apartOf(vectorOf(strongest), other, ruling) > apartPerMm,
    );
    if (!atEnds && isAlone) cases.push({ ruling, tone, mesh, phases, inRange });
  }
  return cases;
}

function vectorOf({ periodMm, directionDeg }: Beat): { readonly x: number; readonly y: number } {
  const angle = (directionDeg * Math.PI) / 180;
  return { x: Math.cos(angle) / periodMm, y: Math.sin(angle) / periodMm };
}

/** Cycles a mm from a frequency to a beat, whichever of its turns is nearest; quarter turns of round dots are alike. */
function apartOf(from: { readonly x: number; readonly y: number }, beat: Beat, ruling: Ruling): number {
  const turns = isQuarterSymmetric(ruling.dotForm) ? [0, 90, 180, 270] : [0, 180];
  return Math.min(
    ...turns.map((turn) => {
      const to = vectorOf({ ...beat, directionDeg: beat.directionDeg + turn });
      return Math.hypot(from.x - to.x, from.y - to.y);
    }),
  );
}

function isFound(found: FoundBeat, beat: Beat, ruling: Ruling): boolean {
  return apartOf(found, beat, ruling) < 0.02 / beat.periodMm;
}

describe('beats against prints drawn point by point', () => {
  it(`finds the strongest of at least 95 % of ${caseCount} prints, its period within 1 %`, () => {
    let right = 0;
    let worstPeriod = 0;
    const ratios: number[] = [];
    const wrong: string[] = [];
    for (const { ruling, tone, mesh, phases, inRange } of drawCases(20260611)) {
      const [threadsPerCm, threadUm] = mesh;
      const print = printedPattern({ ...ruling, shape: ruling.dotForm, tone, threadsPerCm, threadUm, phases });
      const found = strongestRepeat(print, fromMm, toMm);
      const [strongest] = inRange;
      if (isFound(found, strongest, ruling)) {
        right++;
        worstPeriod = Math.max(worstPeriod, Math.abs(1 / Math.hypot(found.x, found.y) / strongest.periodMm - 1));
        ratios.push(strongest.modulationPercent / found.modulationPercent);
      } else {
        const rank = inRange.findIndex((beat) => isFound(found, beat, ruling));
        wrong.push(
          `${JSON.stringify(ruling)} tone ${tone.toFixed(3)} mesh ${mesh}: found ${found.modulationPercent.toFixed(2)} % at ${(1 / Math.hypot(found.x, found.y)).toFixed(3)} mm, rank ${rank + 1}; expected ${strongest.modulationPercent.toFixed(2)} % at ${strongest.periodMm.toFixed(3)} mm`,
        );
      }
    }
    expect(right, wrong.join('\n')).toBeGreaterThanOrEqual(Math.ceil(0.95 * caseCount));
    expect(worstPeriod).toBeLessThan(0.01);
    // Beats that run into each other take from or give to the one looked at.
    for (const ratio of ratios) expect(Math.abs(Math.log(ratio))).toBeLessThan(Math.log(1.5));
  }, 900_000);
});
