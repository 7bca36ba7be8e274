import { mkdirSync, mkdtempSync, rmSync } from 'node:fs';
import type { FileHandle } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import { type Disk, realDisk } from '../../src/intake/disk.ts';
import { WatchLoop } from '../../src/intake/watchLoop.ts';
import { failure } from './support/faultyDisk.ts';
import { sha256, svg, TestIntake } from './support/testIntake.ts';

let folder: string;
let intake: TestIntake | null;

beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), 'reading-'));
  intake = null;
});
afterEach(async () => {
  await intake?.close();
  rmSync(folder, { recursive: true, force: true });
});

async function start(disk: Disk): Promise<TestIntake> {
  intake = await TestIntake.open(join(folder, 'hot'), { disk });
  await intake.start();
  return intake;
}

describe('art that cannot be read', () => {
  it('stays where it is while the disk fails under it, is told once, and is taken when it can be read', async () => {
    let armed = true;
    let failures = 0;
    const openToRead: Disk['openToRead'] = async (path) => {
      const file = await realDisk.openToRead(path);
      if (!path.endsWith('hot/band.svg')) return file;
      return new Proxy(file, {
        get: (target, key) => {
          const value = Reflect.get(target, key) as unknown;
          if (typeof value !== 'function') return value;
          if (!armed || !['read', 'readFile', 'createReadStream'].includes(String(key))) return value.bind(target);
          return () => {
            failures += 1;
            throw failure('EIO');
          };
        },
      }) as FileHandle;
    };
    const opened = await start({ ...realDisk, openToRead });
    opened.drop('band.svg', svg('band'));
    await opened.pass(60);
    expect(failures).toBeGreaterThan(0);
    expect(opened.files()).toEqual({ 'band.svg': sha256(svg('band')) });
    expect(opened.lines.filter((line) => line.includes('band.svg'))).toHaveLength(1);
    armed = false;
    await opened.pass(100);
    await opened.done();
    expect(opened.files()).toMatchObject({ 'Ready to film/band.svg, revision 1/band.svg': sha256(svg('band')) });
  });

  it('is no job when it vanishes while it is taken, and is one when it comes back', async () => {
    let vanished = 0;
    const opened = await start({
      ...realDisk,
      create: async (path) => {
        if (path.endsWith('art/band.svg') && vanished === 0) {
          vanished += 1;
          rmSync(join(folder, 'hot/band.svg'));
        }
        return realDisk.create(path);
      },
    });
    opened.drop('band.svg', svg('band'));
    await opened.pass(40);
    await opened.done();
    expect(vanished).toBe(1);
    const { jobs } = await opened.opened.jobs.counts();
    // The file was open when it went, so its bytes may all have been had; then it is one job with all its bytes.
    if (jobs === 0) {
      expect(opened.files()).toEqual({});
      opened.drop('band.svg', svg('band'));
      await opened.pass(100);
      await opened.done();
    }
    expect((await opened.opened.jobs.job('band.svg'))?.revisions).toHaveLength(1);
    const kept = Object.entries(opened.files()).filter(([name]) => name.endsWith('/band.svg'));
    expect(kept.map(([, hash]) => hash)).toEqual([sha256(svg('band'))]);
  });
});

describe('a ticket', () => {
  it('names the customer the job is found by', async () => {
    const opened = await start(realDisk);
    opened.drop('tee.svg', svg('tee'));
    opened.drop('tee.yaml', 'job: Tee\ncustomer: Harvest committee');
    opened.drop('poster.svg', svg('poster'));
    await opened.pass(8);
    await opened.done();
    const { revisions } = await opened.opened.jobs.find({ customer: 'harvest' });
    expect(revisions.map(({ jobName, customer }) => [jobName, customer])).toEqual([['tee.svg', 'Harvest committee']]);
  });
});

describe('a share that does not answer', () => {
  it('is told once and waited for', async () => {
    const lines: string[] = [];
    const hot = join(folder, 'share');
    mkdirSync(hot);
    let sweeps = 0;
    let answer: () => void = () => undefined;
    const sweep = async () => {
      sweeps += 1;
      if (sweeps === 1) await new Promise<void>((resolve) => (answer = resolve));
      return { there: true, settling: 1 };
    };
    vi.useFakeTimers({ toFake: ['setTimeout', 'clearTimeout'] });
    try {
      const say = { job: (line: string) => lines.push(line), trouble: (line: string) => lines.push(line) };
      const loop = new WatchLoop(hot, sweep, 1_000, say);
      loop.start();
      await vi.advanceTimersByTimeAsync(29_000);
      expect(lines).toEqual([]);
      await vi.advanceTimersByTimeAsync(90_000);
      expect(lines).toEqual([`${hot} has not answered for 30 s. I wait for it.`]);
      expect(sweeps).toBe(1);
      answer();
      await vi.advanceTimersByTimeAsync(5_000);
      expect(sweeps).toBeGreaterThan(2);
      const stopped = loop.stop();
      await vi.advanceTimersByTimeAsync(1_000);
      await stopped;
    } finally {
      vi.useRealTimers();
    }
  });
});
