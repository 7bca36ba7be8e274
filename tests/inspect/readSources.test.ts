import { createHash } from 'node:crypto';
import { readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { describe, expect, it } from 'vitest';
import { byteSourceOf } from '../../src/artwork/byteSource.ts';
import { type Crew, crewOfOne } from '../../src/inspect/crew.ts';
import { readSources } from '../../src/inspect/readSources.ts';
import { allReaders } from '../../src/readers/allReaders.ts';

const fixtures = fileURLToPath(new URL('../../fixtures/', import.meta.url));
const g4 = 'films/bitmap/one-bit/g4.tif';
const grey = 'films/bitmap/one-bit/grey.png';
const sourceOf = (path: string, bytes = readFileSync(fixtures + path)) => byteSourceOf(path, bytes);
/** As if each task were done in another thread, the first last. */
const slowCrew = (hands: number): Crew => {
  const crew = crewOfOne();
  let waits = hands;
  return {
    ...crew,
    hands,
    do: async (name, input) => {
      await new Promise((resolve) => setTimeout(resolve, 20 * waits--));
      return structuredClone(await crew.do(name, structuredClone(input)));
    },
  };
};

describe('reading the files of a job', () => {
  it('keeps their order, whichever is read first, and tells what they are', async () => {
    const sources = [g4, grey, g4].map((path) => sourceOf(path));
    for (const crew of [crewOfOne(), slowCrew(3)]) {
      const counts: number[] = [];
      const read = await readSources(sources, {}, allReaders(), crew, (count) => counts.push(count));
      expect(read.map(({ films }) => films[0].file)).toEqual([g4, grey, g4]);
      expect(counts).toEqual([0, 1, 2, 3]);
      expect(read[1].file.sha256).toBe(
        createHash('sha256')
          .update(readFileSync(fixtures + grey))
          .digest('hex'),
      );
    }
  });

  it('tells of the first that cannot be opened, as if it were read alone', async () => {
    const cut = readFileSync(fixtures + g4);
    const broken = sourceOf('cut.tif', cut.subarray(0, cut.length >> 1));
    const sources = [sourceOf(g4), broken, sourceOf('empty.tif', Buffer.alloc(0)), sourceOf(grey)];
    const alone = await readSources([broken], {}, allReaders(), crewOfOne(), () => {}).catch((error) => error);
    expect(alone).toMatchObject({ name: 'UnreadableFilmError' });
    for (const crew of [crewOfOne(), slowCrew(4)]) {
      const error = await readSources(sources, {}, allReaders(), crew, () => {}).catch((thrown) => thrown);
      expect(error).toMatchObject({ name: 'UnreadableFilmError', message: alone.message });
    }
  });

  it('tells of pixels another thread found damaged', async () => {
    const bytes = Buffer.from(readFileSync(fixtures + g4));
    // The coded rows lie between the header and the directory.
    bytes.fill(0, 64, bytes.length >> 1);
    const told = await Promise.all(
      [crewOfOne(), slowCrew(1)].map((crew) =>
        readSources([sourceOf('damaged.tif', bytes)], {}, allReaders(), crew, () => {}).catch((error) => error),
      ),
    );
    expect(told[0]).toMatchObject({ name: 'UnreadableFilmError' });
    expect(told[1]).toMatchObject({ name: 'UnreadableFilmError', code: told[0].code, message: told[0].message });
  });
});
