import { existsSync, mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { expect, it } from 'vitest';
import { root } from '../cli/runCli.ts';

it('a short slice of the soak: every file once, unchanged, with its report', { timeout: 400_000 }, async () => {
  if (!existsSync(join(root, 'dist/tests/soak/soak.js'))) throw new Error('dist/ is not built; run `npm run build`.');
  const { soak } = (await import(join(root, 'dist/tests/soak/soak.js'))) as typeof import('./soak.ts');
  const folder = mkdtempSync(join(tmpdir(), 'soak-'));
  const result = await soak({ folder, jobs: 24, killEveryS: 5, limitS: 350, seed: 7 });
  process.stdout.write(`${JSON.stringify(result)}\n`);
  expect(result).toMatchObject({ missing: [], twice: [], changed: [], withoutReport: [], unfinished: 0 });
  expect(result.foundOnce).toBe(result.files);
  expect(result.jobsInStore).toBe(result.dropped);
  expect(result.dropped).toBe(24);
  expect(result.couldNotRun).toBe(result.damaged);
  expect(result.kills).toBeGreaterThan(0);
  rmSync(folder, { recursive: true });
});
