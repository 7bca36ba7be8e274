// Compiles the sources into dist/ and copies what is not TypeScript beside them.
import { execFileSync } from 'node:child_process';
import { chmodSync, cpSync, existsSync, rmSync } from 'node:fs';
import { createRequire } from 'node:module';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';

const root = dirname(dirname(fileURLToPath(import.meta.url)));
const compiler = join(dirname(createRequire(import.meta.url).resolve('typescript/package.json')), 'bin', 'tsc');

rmSync(join(root, 'dist'), { recursive: true, force: true });
execFileSync(process.execPath, [compiler, '-p', join(root, 'tsconfig.json')], { cwd: root, stdio: 'inherit' });
cpSync(join(root, 'package.json'), join(root, 'dist', 'package.json'));
for (const assets of ['src/report/assets', 'src/raster/kernels/kernels.wasm', 'src/raster/kernels/outlines.wasm']) {
  if (existsSync(join(root, assets))) cpSync(join(root, assets), join(root, 'dist', assets), { recursive: true });
}
chmodSync(join(root, 'dist', 'cli', 'main.js'), 0o755);
