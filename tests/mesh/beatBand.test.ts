import { describe, expect, it } from 'vitest';
import { meshVector, rulingVector } from '../../src/mesh/beat.ts';
import { beatsInBand, usualBand } from '../../src/mesh/beatBand.ts';
import { dotSpectrum } from '../../src/mesh/dotSpectrum.ts';
import { meshBeats } from '../../src/mesh/meshBeats.ts';
import { meshByFormula } from '../../src/mesh/meshGeometry.ts';
import { seededRandom } from '../support/seededRandom.ts';

const mesh = meshByFormula(120, 34);
const ruling = { rulingLpi: 55, angleDeg: 22.5, dotForm: 'round' } as const;
const spectrum = dotSpectrum('round', [20]);
const all = { leastPeriodMm: 0.5, leastModulationPercent: 0.5 };

describe('beats over the ways a mesh may lie', () => {
  it('of a mesh that neither stretches nor turns are those of the mesh as it lies', () => {
    const still = { stretchPercent: [0, 0], squarenessDeg: 0 } as const;
    const inBand = beatsInBand(ruling, spectrum, mesh, still, all);
    const asItLies = meshBeats(ruling, spectrum, mesh).filter(
      ({ periodMm, modulationPercent }) => periodMm >= 0.5 && modulationPercent >= 0.5,
    );
    expect(inBand.map(({ rulingOrder, meshOrder }) => [rulingOrder, meshOrder])).toEqual(
      asItLies.map(({ rulingOrder, meshOrder }) => [rulingOrder, meshOrder]),
    );
    for (const [index, beat] of inBand.entries()) {
      expect(beat.periodMm).toBeCloseTo(asItLies[index].periodMm, 9);
      expect(beat.shortestPeriodMm).toBeCloseTo(beat.periodMm, 9);
    }
  });

  it('holds the longest of a stretch that is tried step by step', () => {
    // 120/cm stretched by 0 to 4 %: 2.71, 3.80, 5.66, 7.02, 5.35 mm; the longest lies near 3 %.
    const [first] = beatsInBand(ruling, spectrum, mesh, { stretchPercent: [0, 4], squarenessDeg: 0 }, all);
    expect(first.rulingOrder).toEqual([5, -2]);
    expect(first.periodMm).toBeGreaterThan(7.02);
    expect(first.periodMm).toBeLessThan(7.2);
    expect(first.at.stretchPercent).toBeGreaterThan(2.5);
    expect(first.at.stretchPercent).toBeLessThan(3.2);
    expect(first.shortestPeriodMm).toBeCloseTo(2.71, 2);
    // The threads pass the order itself, 0.7° away, when they may also turn by as much.
    const [turned] = beatsInBand(ruling, spectrum, mesh, usualBand, all);
    expect(turned.periodMm).toBeGreaterThan(1e6);
    expect(Math.abs(turned.at.turnDeg)).toBeCloseTo(22.5 - (Math.atan2(2, 5) * 180) / Math.PI, 6);
  });

  it('no way of lying tried at random makes a beat longer or shorter than said', () => {
    const random = seededRandom(7);
    for (const dotForm of ['round', 'elliptical', 'line'] as const) {
      for (let round = 0; round < 20; round++) {
        const some = { rulingLpi: 35 + 40 * random(), angleDeg: 180 * random(), dotForm };
        const band = { stretchPercent: [-1, 4], squarenessDeg: 1.5 } as const;
        for (const beat of beatsInBand(some, dotSpectrum(dotForm, [30]), mesh, band, all)) {
          for (let trial = 0; trial < 40; trial++) {
            const state = { stretchPercent: -1 + 5 * random(), turnDeg: 3 * random() - 1.5 };
            const f = rulingVector(some, beat.rulingOrder);
            const g = meshVector(120, beat.meshOrder, state);
            const perMm = Math.hypot(f.x - g.x, f.y - g.y) / 10;
            expect(perMm * (1 + 1e-9)).toBeGreaterThanOrEqual(1 / beat.periodMm);
            expect(perMm).toBeLessThanOrEqual((1 + 1e-9) / beat.shortestPeriodMm);
          }
        }
      }
    }
  });
});
