import { readdirSync, readFileSync, statSync } from 'node:fs';
import { dirname, join, relative } from 'node:path';
import { fileURLToPath } from 'node:url';
import { deflateRawSync } from 'node:zlib';
import { describe, expect, it } from 'vitest';
import { byteSourceOf } from '../../src/artwork/byteSource.ts';
import { completenessOf } from '../../src/intake/complete/index.ts';
import { zipOf } from '../support/zip.ts';

const fixtures = join(dirname(dirname(dirname(fileURLToPath(import.meta.url)))), 'fixtures');
const art = /\.(?:pdf|svg|tiff?|png|jpe?g|webp|psd|psb|eps|ps)$/i;

/** Files that other programs wrote and finished. */
const finished = ['films', 'jobs']
  .flatMap((folder) =>
    readdirSync(join(fixtures, folder), { recursive: true }).map((name) => join(fixtures, folder, name as string)),
  )
  .filter((path) => art.test(path) && statSync(path).isFile())
  .sort();

const ask = (bytes: Uint8Array) => completenessOf(byteSourceOf('film', bytes));

/** Ends at which a copy may stand still. */
function cuts(length: number): number[] {
  return [0, 0.01, 0.1, 0.25, 0.5, 0.75, 0.9, 0.99].map((part) => Math.floor(length * part));
}

describe('whether a file is all there', () => {
  it('finds something to look at', () => {
    const endings = new Set(finished.map((path) => path.slice(path.lastIndexOf('.')).toLowerCase()));
    for (const ending of ['.pdf', '.svg', '.tif', '.png', '.jpg', '.psd']) expect([...endings]).toContain(ending);
  });

  it('takes none of the finished films for one that is still arriving', async () => {
    const short: string[] = [];
    for (const path of finished) if ((await ask(readFileSync(path))) === 'short') short.push(relative(fixtures, path));
    expect(short).toEqual([]);
  });

  it('takes no part of a film for the whole', async () => {
    const whole: string[] = [];
    for (const path of finished) {
      const bytes = readFileSync(path);
      for (const cut of cuts(bytes.length))
        if ((await ask(bytes.subarray(0, cut))) === 'complete') whole.push(`${relative(fixtures, path)} at ${cut}`);
    }
    expect(whole).toEqual([]);
  });

  it('is not deceived by room that was set aside for the copy', async () => {
    const deceived: string[] = [];
    for (const path of finished) {
      const bytes = readFileSync(path);
      for (const cut of cuts(bytes.length).filter((at) => bytes.length - at >= 4096)) {
        const preallocated = new Uint8Array(bytes.length);
        preallocated.set(bytes.subarray(0, cut));
        if ((await ask(preallocated)) === 'complete') deceived.push(`${relative(fixtures, path)} at ${cut}`);
      }
    }
    expect(deceived).toEqual([]);
  });

  it('finds the end of an archive, and misses it in a part of one', async () => {
    const zip = zipOf([{ name: 'coral.svg', bytes: Buffer.from('<svg/>'.repeat(500)) }]);
    expect(await ask(zip)).toBe('complete');
    for (const cut of [30, 60, zip.length - 1]) expect(await ask(zip.subarray(0, cut)), `${cut}`).not.toBe('complete');
  });

  it('cannot tell of bytes of no known format', async () => {
    expect(await ask(Buffer.from('a letter to the printer'))).toBe('unknown');
    expect(await ask(deflateRawSync('something packed'))).toBe('unknown');
  });

  it('an empty file is short', async () => {
    expect(await ask(new Uint8Array(0))).toBe('short');
  });
});
