import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { afterAll, expect, it } from 'vitest';
import { gainHeadroom } from '../../../src/mesh/gainHeadroom.ts';
import { hasPythonPackage, python, runOracle } from '../../support/oraclePrograms.ts';

const script = fileURLToPath(new URL('holes.py', import.meta.url));
const folder = mkdtempSync(join(tmpdir(), 'plateglass-oracle-'));
afterAll(() => rmSync(folder, { recursive: true, force: true }));

const forms = ['round', 'square', 'diamond', 'euclidean', 'elliptical', 'line'] as const;
const tones = [0.3, 0.5, 0.6, 0.7, 0.8, 0.9, 0.95];

it.skipIf(!hasPythonPackage('scipy.ndimage'))(
  'holes close when dots grow by the largest circle scipy finds between them',
  () => {
    const file = join(folder, 'tones.json');
    writeFileSync(file, JSON.stringify(Object.fromEntries(forms.map((form) => [form, tones]))));
    const radii = JSON.parse(runOracle(python, [script, file])) as Record<string, number[]>;
    const cellUm = 25_400 / 45;
    for (const form of forms) {
      for (const [k, tone] of tones.entries()) {
        const { closesUm } = gainHeadroom(form, 45, 100 * tone, null);
        // Two and a half places of the drawing: squares grow by whole rows of them.
        expect(Math.abs(closesUm - radii[form][k] * cellUm), `${form} ${tone}`).toBeLessThan(2.5 * (cellUm / 500));
      }
    }
  },
);
