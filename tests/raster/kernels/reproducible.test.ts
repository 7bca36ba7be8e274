import { spawnSync } from 'node:child_process';
import { fileURLToPath } from 'node:url';
import { expect, it } from 'vitest';

it('the .wasm files are what their sources compile to', () => {
  const script = fileURLToPath(new URL('../../../cli/buildKernels.mjs', import.meta.url));
  const { stdout, stderr } = spawnSync(process.execPath, [script, '--check'], { encoding: 'utf8' });
  expect(`${stdout}${stderr}`.trim().split('\n')).toEqual([
    'kernels.wasm is what its sources compile to',
    'outlines.wasm is what its sources compile to',
  ]);
}, 120_000);
