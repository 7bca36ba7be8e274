import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { afterAll, describe, expect, it } from 'vitest';
import {
  fitAffine,
  fitErrors,
  fitSimilarity,
  largestLeftMm,
  type MarkPair,
  rotationDegOf,
  scaleOf,
} from '../../../src/measurements/registrationFit.ts';
import { hasPythonPackage, python, runOracle } from '../../support/oraclePrograms.ts';
import { seededRandom } from '../../support/seededRandom.ts';

const script = fileURLToPath(new URL('fits.py', import.meta.url));
const folder = mkdtempSync(join(tmpdir(), 'plateglass-oracle-'));
afterAll(() => rmSync(folder, { recursive: true, force: true }));

interface Answer {
  readonly similarity: Record<'rotationDeg' | 'scale' | 'largestMm' | 'scaleError' | 'turnError', number>;
  readonly affine: Record<'a' | 'b' | 'c' | 'd' | 'largestMm' | 'scaleError' | 'turnError', number>;
}

/** Marks anywhere on a film, and where another film has them: turned, stretched unevenly, and off by chance. */
function pairsOf(seed: number): MarkPair[] {
  const random = seededRandom(seed);
  const turn = 0.02 * (random() - 0.5);
  const [sx, sy] = [1 + 0.006 * (random() - 0.5), 1 + 0.006 * (random() - 0.5)];
  return Array.from({ length: 4 + Math.floor(6 * random()) }, () => {
    const [x, y] = [300 * random(), 400 * random()];
    const [u, v] = [sx * x, sy * y];
    const off = () => 0.2 * (random() - 0.5);
    return {
      from: { xMm: x, yMm: y },
      to: {
        xMm: u * Math.cos(turn) - v * Math.sin(turn) + 0.3 + off(),
        yMm: u * Math.sin(turn) + v * Math.cos(turn) - 0.2 + off(),
      },
    };
  });
}

describe('the fits of marks', () => {
  it.skipIf(!hasPythonPackage('scipy.optimize'))('are those of scipy’s least squares', () => {
    const sets = Array.from({ length: 40 }, (_, k) => pairsOf(k + 1));
    const file = join(folder, 'pairs.json');
    const plain = sets.map((pairs) =>
      pairs.map(({ from, to }) => [
        [from.xMm, from.yMm],
        [to.xMm, to.yMm],
      ]),
    );
    writeFileSync(file, JSON.stringify(plain));
    const answers: Answer[] = JSON.parse(runOracle(python, [script, file]));
    sets.forEach((pairs, k) => {
      const { similarity, affine } = answers[k];
      const one = fitSimilarity(pairs)!;
      expect(rotationDegOf(one)).toBeCloseTo(similarity.rotationDeg, 6);
      expect(scaleOf(one)).toBeCloseTo(similarity.scale, 8);
      expect(largestLeftMm(one, pairs)).toBeCloseTo(similarity.largestMm, 5);
      const two = fitAffine(pairs)!;
      for (const key of ['a', 'b', 'c', 'd'] as const) expect(two[key]).toBeCloseTo(affine[key], 7);
      expect(largestLeftMm(two, pairs)).toBeCloseTo(affine.largestMm, 5);
      const plusMinusMm = 0.02;
      for (const [model, answer] of [
        ['similarity', similarity],
        ['affine', affine],
      ] as const) {
        const bars = fitErrors(
          model,
          pairs.map(({ from }) => ({ from, plusMinusMm })),
        )!;
        // The scale of the similarity is 1 but for 0.3 %.
        expect(bars.scale / (plusMinusMm * answer.scaleError)).toBeCloseTo(1, 2);
        expect(bars.turnRad / (plusMinusMm * answer.turnError)).toBeCloseTo(1, 2);
      }
    });
  });
});
