/**
 * Films 12, 24 and 48 inches wide of the same line art, at 720 and 1440 dpi, up to a thousand megapixels: whether time
 * grows with the pixels and memory stays bounded. Reading and all measurements in one thread, one film a process.
 * `node dist/tests/bench/scaleBench.js [scratch folder]`; the films are kept there.
 */
import { execFileSync } from 'node:child_process';
import { mkdirSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { writeLineArt } from './plateSet.ts';
import type { Took } from './plateSetPass.ts';

const pass = fileURLToPath(new URL('plateSetPass.js', import.meta.url));
const folder = process.argv[2] ?? join(tmpdir(), 'plateglass-scale');
mkdirSync(folder, { recursive: true });

const films = [
  { widthIn: 12, heightIn: 15, dpi: 720 },
  { widthIn: 24, heightIn: 20, dpi: 720 },
  { widthIn: 48, heightIn: 28, dpi: 720 },
  { widthIn: 12, heightIn: 15, dpi: 1440 },
  { widthIn: 24, heightIn: 20, dpi: 1440 },
];
for (const { widthIn, heightIn, dpi } of films) {
  const [widthPx, heightPx] = [widthIn * dpi, heightIn * dpi];
  const file = join(folder, `film-${widthIn}x${heightIn}-${dpi}.tif`);
  await writeLineArt(file, { widthPx, heightPx, dpi });
  const took: Took = JSON.parse(execFileSync(process.execPath, [pass, 'measure', '0', file], { encoding: 'utf8' }));
  const pixels = widthPx * heightPx;
  process.stdout.write(
    `${widthIn} x ${heightIn} in at ${dpi} dpi, ${(pixels / 1e6).toFixed(0)} Mpx: ${took.cpuS.toFixed(2)} s CPU, ` +
      `${((1e9 * took.cpuS) / pixels).toFixed(2)} ns a pixel, peak ${took.peakMb.toFixed(0)} MB\n`,
  );
}
