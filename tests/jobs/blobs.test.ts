import { createHash } from 'node:crypto';
import { existsSync, readdirSync, rmSync, utimesSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, describe, expect, it } from 'vitest';
import { FileBlobs } from '../../src/jobs/fileBlobs.ts';
import { makeFolder } from '../support/jobStores.ts';

describe('blobs', () => {
  const folder = makeFolder();
  const blobs = new FileBlobs(folder);
  const bytes = new TextEncoder().encode('{"verdict":"pass"}\n');
  // sha256sum of the same bytes.
  const sha256 = 'e2dc2a03ef0b45d9bd4e1bcbd67ab2ec6cd2f3ec1d3c1b4a0ee2e7f5a3e0bb4d';
  afterAll(() => rmSync(folder, { recursive: true, force: true }));
  const makeOld = (path: string) => utimesSync(path, new Date(2020, 1, 1), new Date(2020, 1, 1));

  it('are named by the SHA-256 of what is in them', async () => {
    const expected = createHash('sha256').update(bytes).digest('hex');
    expect(await blobs.put(bytes)).toEqual({ sha256: expected, sizeBytes: bytes.length });
    expect(blobs.pathOf(expected)).toBe(join(folder, expected.slice(0, 2), expected));
    expect(await blobs.read(expected)).toEqual(bytes);
    const file = join(folder, 'a file');
    writeFileSync(file, bytes);
    expect(await blobs.putFile(file)).toEqual({ sha256: expected, sizeBytes: bytes.length });
    expect(readdirSync(join(folder, 'incoming'))).toEqual([]);
  });

  it('are never given out damaged', async () => {
    const { sha256: name } = await blobs.put(new Uint8Array([1, 2, 3]));
    writeFileSync(blobs.pathOf(name), new Uint8Array([1, 2, 4]));
    await expect(blobs.read(name)).rejects.toThrow('damaged');
    writeFileSync(blobs.pathOf(name), new Uint8Array([1]));
    await blobs.put(new Uint8Array([1, 2, 3]));
    expect(await blobs.read(name)).toEqual(new Uint8Array([1, 2, 3]));
    await expect(blobs.read(sha256)).rejects.toThrow();
    expect(() => blobs.pathOf('../../passwords')).toThrow('SHA-256');
  });

  it('go when nothing refers to them any more, but not while they may just have been put', async () => {
    const used = await blobs.put(new Uint8Array(100));
    const unused = await blobs.put(new Uint8Array(200));
    const fresh = await blobs.put(new Uint8Array(300));
    const again = await blobs.put(new Uint8Array(400));
    for (const { sha256: name } of [used, unused, again]) makeOld(blobs.pathOf(name));
    await blobs.put(new Uint8Array(400));
    const abandoned = join(folder, 'incoming', 'half a blob');
    writeFileSync(abandoned, 'half');
    makeOld(abandoned);
    expect(await blobs.sweep(new Set([used.sha256]))).toEqual({ count: 1, sizeBytes: 200 });
    expect(await blobs.has(unused.sha256)).toBe(false);
    for (const { sha256: name } of [used, fresh, again]) expect(await blobs.has(name)).toBe(true);
    expect(existsSync(abandoned)).toBe(false);
  });
});
