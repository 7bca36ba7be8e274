import { mkdirSync, mkdtempSync, readdirSync, rmSync, statSync, symlinkSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import type { Disk } from '../../src/intake/disk.ts';
import { realDisk } from '../../src/intake/disk.ts';
import { moveFolder } from '../../src/intake/moveFolder.ts';
import { failure, faultyDisk } from './support/faultyDisk.ts';
import { filesBelow, sha256, svg, TestIntake } from './support/testIntake.ts';

let folder: string;
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), 'device-'));
});
afterEach(() => rmSync(folder, { recursive: true, force: true }));

/** Two folders that count as two devices; nothing is moved between them by a change of name. */
function twoDevices(disk: Disk, refused: { count: number }): Disk {
  const deviceOf = (path: string) => (path.startsWith(join(folder, 'far')) ? 'far' : 'near');
  return {
    ...disk,
    rename: async (from, to) => {
      if (deviceOf(from) === deviceOf(to)) return disk.rename(from, to);
      refused.count += 1;
      throw failure('EXDEV');
    },
  };
}

/** A disk that is gone from a call on, as if the process had been ended ahead of it. */
function endingAt(call: number): { disk: Disk; calls: () => number } {
  let calls = 0;
  const disk = faultyDisk(realDisk, () => {
    calls += 1;
    if (calls >= call) throw failure('ended');
  });
  return { disk, calls: () => calls };
}

const everyName = (below: string) => (readdirSync(below, { recursive: true }) as string[]).sort();

function makeJob(name: string): void {
  mkdirSync(join(folder, 'near', name, 'choir'), { recursive: true });
  writeFileSync(join(folder, 'near', name, 'coral.svg'), svg('coral'));
  writeFileSync(join(folder, 'near', name, 'choir/night.svg'), svg('night'));
  symlinkSync('coral.svg', join(folder, 'near', name, 'latest'));
}

describe('a folder that is moved to another device', () => {
  it('is there as a whole and nowhere else, at whatever call the process ended', async () => {
    const refused = { count: 0 };
    let ended = 0;
    for (let call = 1; ; call++) {
      for (const name of ['near', 'far']) rmSync(join(folder, name), { recursive: true, force: true });
      makeJob('job');
      const { disk, calls } = endingAt(call);
      const [from, to] = [join(folder, 'near/job'), join(folder, 'far/Ready/job')];
      const first = await moveFolder(twoDevices(disk, refused), from, to).catch((error: Error) => error);
      if (first instanceof Error) ended += 1;
      await moveFolder(twoDevices(realDisk, refused), from, to);
      expect(everyName(join(folder, 'near')), `ended at call ${call}`).toEqual([]);
      expect(everyName(join(folder, 'far')), `ended at call ${call}`).toEqual([
        'Ready',
        ...['', '/choir', '/choir/night.svg', '/coral.svg', '/latest'].map((path) => `Ready/job${path}`),
      ]);
      expect(filesBelow(join(folder, 'far'))).toMatchObject({
        'Ready/job/coral.svg': sha256(svg('coral')),
        'Ready/job/choir/night.svg': sha256(svg('night')),
      });
      if (calls() < call) break;
    }
    expect(refused.count).toBeGreaterThan(0);
    expect(ended).toBeGreaterThan(10);
  });

  it('stays where it is when what arrived is not what was sent', async () => {
    makeJob('job');
    const refused = { count: 0 };
    const spoiling: Disk = {
      ...realDisk,
      create: async (path) => {
        const file = await realDisk.create(path);
        const write = file.write.bind(file) as (...given: unknown[]) => Promise<unknown>;
        if (path.endsWith('night.svg'))
          Object.assign(file, {
            write: (bytes: Buffer, ...more: unknown[]) => write(Buffer.from(bytes).fill(0x20, 0, 3), ...more),
          });
        return file;
      },
    };
    const [from, to] = [join(folder, 'near/job'), join(folder, 'far/job')];
    await expect(moveFolder(twoDevices(spoiling, refused), from, to)).rejects.toThrow('changed while it was copied');
    expect(filesBelow(from)['choir/night.svg']).toBe(sha256(svg('night')));
    expect(readdirSync(join(folder, 'far')).filter((name) => !name.startsWith('.'))).toEqual([]);
    await moveFolder(twoDevices(realDisk, refused), from, to);
    expect(everyName(join(folder, 'far'))).toHaveLength(5);
  });
});

const memory = '/dev/shm';
const isOther = () => {
  try {
    return statSync(memory).dev !== statSync(tmpdir()).dev;
  } catch {
    return false;
  }
};
if (!isOther()) process.stderr.write(`${memory} is no other device here; outcomes and store are tested on one only.\n`);

it.skipIf(!isOther())('outcomes and store on a device of memory: a job gets there with its report', async () => {
  const far = mkdtempSync(join(memory, 'device-'));
  const intake = await TestIntake.open(join(folder, 'hot'), { outcomes: far, store: join(far, 'store') });
  try {
    await intake.start();
    intake.drop('choir/coral.svg', svg('coral'));
    symlinkSync('coral.svg', join(intake.root, 'choir/latest'));
    await intake.pass(12);
    await intake.done();
    await intake.close();
    const job = 'Ready to film/choir, revision 1';
    expect(filesBelow(far)).toMatchObject({
      [`${job}/choir/coral.svg`]: sha256(svg('coral')),
      [`${job}/Film report/report.json`]: expect.any(String),
    });
    expect(intake.files()).toEqual({});
    expect(everyName(join(intake.root, '.plateglass/jobs'))).toEqual([]);
  } finally {
    rmSync(far, { recursive: true, force: true });
  }
});
