// Compiles the kernels' sources into kernels.wasm, or with --check says whether what stands there is what it compiles to.
import { readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import asc from 'assemblyscript/asc';

const here = fileURLToPath(new URL('../src/raster/kernels', import.meta.url));
const built = join(here, 'kernels.wasm');
const check = process.argv.includes('--check');
const into = check ? join(tmpdir(), `kernels-${process.pid}.wasm`) : built;
const options = ['-O3', '--converge', '--noAssert', '--runtime', 'stub', '--enable', 'simd'];
const { error, stderr } = await asc.main([join(here, 'assembly', 'index.ts'), '-o', into, ...options]);
if (error) {
  process.stderr.write(`${error.message}\n${stderr.toString()}`);
  process.exitCode = 1;
} else if (check) {
  const same = readFileSync(into).equals(readFileSync(built));
  rmSync(into);
  process.stdout.write(same ? 'kernels.wasm is what its sources compile to\n' : 'kernels.wasm is not up to date\n');
  process.exitCode = same ? 0 : 1;
}
