// Compiles the kernels' sources into .wasm files, or with --check says whether what stands there is what they compile to.
import { readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import asc from 'assemblyscript/asc';

const here = fileURLToPath(new URL('../src/raster/kernels', import.meta.url));
const check = process.argv.includes('--check');
const common = ['-O3', '--converge', '--noAssert', '--runtime', 'stub'];
const modules = [
  { name: 'kernels', source: 'index.ts', options: ['--enable', 'simd'] },
  { name: 'outlines', source: join('outlines', 'index.ts'), options: [] },
];

for (const { name, source, options } of modules) {
  const built = join(here, `${name}.wasm`);
  const into = check ? join(tmpdir(), `${name}-${process.pid}.wasm`) : built;
  const { error, stderr } = await asc.main([join(here, 'assembly', source), '-o', into, ...common, ...options]);
  if (error) {
    process.stderr.write(`${error.message}\n${stderr.toString()}`);
    process.exitCode = 1;
  } else if (check) {
    const same = readFileSync(into).equals(readFileSync(built));
    rmSync(into);
    process.stdout.write(`${name}.wasm is ${same ? 'what its sources compile to' : 'not up to date'}\n`);
    if (!same) process.exitCode = 1;
  }
}
