import { mkdtempSync, readFileSync, rmSync, utimesSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { FolderIsWatched, type LockOptions, lockFolder } from '../../src/intake/folderLock.ts';

let folder: string;
let path: string;
let nowMs: number;
let touching: boolean;
let said: string[];

beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), 'lock-'));
  path = join(folder, 'lock');
  nowMs = 0;
  touching = false;
  said = [];
});
afterEach(() => rmSync(folder, { recursive: true, force: true }));

/** A machine; while it waits, the one that holds the lock touches it where `touching` says so. */
function machine(host: string, takeOver: boolean): LockOptions {
  return {
    host,
    token: `${host} ${takeOver}`,
    takeOver: takeOver ? (line) => said.push(line) : null,
    clock: { monotonicMs: () => nowMs, date: () => new Date(nowMs) },
    pause: async (ms) => {
      nowMs += ms;
      if (touching) utimesSync(path, nowMs / 1000, nowMs / 1000);
    },
  };
}
const ownerNow = () => (JSON.parse(readFileSync(path, 'utf8')) as { host: string }).host;

describe('the lock of a folder', () => {
  it('that another machine holds is refused, with how to free it, and left as it is', async () => {
    const held = await lockFolder(path, machine('cellar', false));
    const refusal = await lockFolder(path, machine('attic', false)).catch((error: Error) => error);
    expect(refusal).toBeInstanceOf(FolderIsWatched);
    expect((refusal as Error).message).toMatch(/on cellar holds this folder.*stop it there.*--take-over\.$/);
    expect(ownerNow()).toBe('cellar');
    expect(said).toEqual([]);
    await held.release();
    await (await lockFolder(path, machine('attic', false))).release();
  });

  it('is taken over when that is asked for and nobody touches it, and that is said', async () => {
    await lockFolder(path, machine('cellar', false));
    const taken = await lockFolder(path, machine('attic', true));
    expect(ownerNow()).toBe('attic');
    expect(said).toEqual([expect.stringMatching(/lock of process \d+ on cellar for 20 s: it is taken over/)]);
    expect(nowMs).toBeGreaterThanOrEqual(20_000);
    expect(taken.left).toMatch(/^cellar:/);
  });

  it('is not taken over while the other machine touches it, whatever was asked for', async () => {
    await lockFolder(path, machine('cellar', false));
    touching = true;
    await expect(lockFolder(path, machine('attic', true))).rejects.toThrow(/on cellar watches this folder already/);
    expect(ownerNow()).toBe('cellar');
    expect(said).toEqual([]);
  });
});
