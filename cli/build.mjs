// Compiles the sources into dist/, copies what is not TypeScript beside them, and packs the program into few files.
import { execFileSync } from 'node:child_process';
import { chmodSync, cpSync, readdirSync, rmSync } from 'node:fs';
import { createRequire } from 'node:module';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { rolldown } from 'rolldown';
import { build } from 'vite';

const root = dirname(dirname(fileURLToPath(import.meta.url)));
const compiler = join(dirname(createRequire(import.meta.url).resolve('typescript/package.json')), 'bin', 'tsc');
const out = join(root, 'dist');
const kernels = 'src/raster/kernels';

rmSync(out, { recursive: true, force: true });
execFileSync(process.execPath, [compiler, '-p', join(root, 'tsconfig.json')], { cwd: root, stdio: 'inherit' });
cpSync(join(root, 'package.json'), join(out, 'package.json'));

// To find and read a module takes longer than to run it. What carries compiled code or files of its own, and what starts
// threads by its own file name, stays as installed.
const program = await rolldown({
  cwd: root,
  input: {
    main: join(out, 'cli/main.js'),
    worker: join(out, 'src/inspect/worker.js'),
    reviewThread: join(out, 'cli/reviewThread.js'),
  },
  platform: 'node',
  external: [
    '@node-rs/argon2',
    'fastify',
    '@fastify/static',
    'libsql',
    'pg',
    'sharp',
    '@embedpdf/pdfium',
    'tinypool',
    'css-tree',
    'pdfkit',
  ],
});
await program.write({ dir: join(out, 'cli'), chunkFileNames: 'part-[name]-[hash].js' });

// The kernels lie beside the code that loads them, packed or not.
for (const name of readdirSync(join(root, kernels)).filter((file) => file.endsWith('.wasm'))) {
  for (const folder of ['cli', kernels]) cpSync(join(root, kernels, name), join(out, folder, name));
}
for (const page of ['page', 'customer'])
  await build({ configFile: join(root, 'web', page, 'vite.config.ts'), logLevel: 'warn' });
chmodSync(join(out, 'cli/main.js'), 0o755);
