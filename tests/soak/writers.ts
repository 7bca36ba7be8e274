import { createHash } from 'node:crypto';
import { appendFileSync, mkdirSync, readdirSync, readFileSync, renameSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { seededRandom } from '../support/seededRandom.ts';
import { zipOf } from '../support/zip.ts';

/** One file that was dropped: where it is to be found again and what it must still be. */
export interface Dropped {
  readonly job: string;
  /** No film, so that it cannot be checked. */
  readonly damaged: boolean;
  readonly name: string;
  readonly sha256: string;
}

const pause = (ms: number) => new Promise((resolve) => setTimeout(resolve, ms));

/** A small film of one ink whose bytes no other has. */
export function drawnFilm(job: string): string {
  return `<svg xmlns="http://www.w3.org/2000/svg" width="20mm" height="20mm" viewBox="0 0 20 20"><!-- ${job} --><rect x="4" y="4" width="12" height="12" fill="#1f8a9e"/></svg>`;
}

/**
 * Drops jobs one after the other as people and programs do: at once, in pieces with pauses, renamed into place, as a
 * folder, as an archive, with a ticket, and damaged. What it has dropped it adds to `dropped` when it lies there as a
 * whole.
 */
export async function write(
  folder: string,
  writer: number,
  jobs: number,
  pdf: Uint8Array,
  dropped: Dropped[],
): Promise<void> {
  const random = seededRandom(1_000 + writer);
  const put = (job: string, name: string, bytes: string | Uint8Array, damaged = false) =>
    dropped.push({ job, name, damaged, sha256: createHash('sha256').update(bytes).digest('hex') });
  for (let n = 0; n < jobs; n++) {
    const base = `w${writer}-${n}`;
    const kind = Math.floor(random() * 8);
    if (kind <= 1) {
      const name = `${base}.svg`;
      writeFileSync(join(folder, name), drawnFilm(base));
      put(name, name, drawnFilm(base));
    } else if (kind === 2) {
      const name = `${base}.pdf`;
      const bytes = Buffer.concat([pdf, Buffer.from(`\n% ${base}\n%%EOF\n`)]);
      for (let at = 0; at < bytes.length; at += Math.ceil(bytes.length / 4)) {
        appendFileSync(join(folder, name), bytes.subarray(at, at + Math.ceil(bytes.length / 4)));
        await pause(100 + random() * 900);
      }
      put(name, name, bytes);
    } else if (kind === 3) {
      const name = `${base}.svg`;
      writeFileSync(join(folder, `.${name}.part`), drawnFilm(base));
      await pause(random() * 300);
      renameSync(join(folder, `.${name}.part`), join(folder, name));
      put(name, name, drawnFilm(base));
    } else if (kind === 4) {
      mkdirSync(join(folder, base));
      for (const ink of ['coral', 'night']) {
        writeFileSync(join(folder, base, `${ink}.svg`), drawnFilm(`${base} ${ink}`));
        put(base, `${base}/${ink}.svg`, drawnFilm(`${base} ${ink}`));
        await pause(random() * 500);
      }
    } else if (kind === 5) {
      const zip = zipOf(
        ['coral', 'night'].map((ink) => ({ name: `${ink}.svg`, bytes: Buffer.from(drawnFilm(`${base} ${ink}`)) })),
      );
      writeFileSync(join(folder, `${base}.zip`), zip);
      put(base, `${base}.zip`, zip);
    } else if (kind === 6) {
      writeFileSync(join(folder, `${base}.yaml`), `job: ${base}\n`);
      writeFileSync(join(folder, `${base}.svg`), drawnFilm(base));
      put(`${base}.svg`, `${base}.svg`, drawnFilm(base));
      put(`${base}.svg`, `${base}.yaml`, `job: ${base}\n`);
    } else {
      const name = `${base}.tif`;
      const bytes = `not a film ${base}`;
      writeFileSync(join(folder, name), bytes);
      put(name, name, bytes, true);
    }
    await pause(random() * 100);
  }
}

/** Hashes of all files below a folder by their paths; intake's own left out. */
export function hashesBelow(folder: string): Map<string, string> {
  const found = new Map<string, string>();
  for (const entry of readdirSync(folder, { recursive: true, withFileTypes: true })) {
    const path = join(entry.parentPath, entry.name).slice(folder.length + 1);
    if (!entry.isFile() || path.startsWith('.plateglass')) continue;
    found.set(
      path,
      createHash('sha256')
        .update(readFileSync(join(folder, path)))
        .digest('hex'),
    );
  }
  return found;
}
