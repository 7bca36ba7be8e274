import { mkdtempSync, readdirSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { realDisk } from '../../src/intake/disk.ts';
import { failure } from './support/faultyDisk.ts';
import type { TestIntakeOptions } from './support/testIntake.ts';
import { svg, TestIntake } from './support/testIntake.ts';

let folder: string;
let open: TestIntake[];

beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), 'aside-'));
  open = [];
});

afterEach(async () => {
  for (const intake of open) await intake.close();
  rmSync(folder, { recursive: true, force: true });
});

async function start(options: TestIntakeOptions = {}): Promise<TestIntake> {
  const intake = await TestIntake.open(join(folder, 'hot'), options);
  open.push(intake);
  await intake.start();
  return intake;
}

describe('what is hard or impossible to take', () => {
  it('takes a job of many films whose names are long and alike', async () => {
    const intake = await start();
    const long = `${'c'.repeat(240)}.svg`;
    for (const part of ['one', 'two', 'three']) intake.drop(`choir/${part}/${long}`, svg(part));
    await intake.pass(12);
    await intake.done();
    expect(Object.keys(intake.files()).filter((name) => name.endsWith(long))).toHaveLength(3);
    expect(intake.lines).toHaveLength(2);
  });

  it('leaves what can never be taken where it is, says so once each, and waits for none of it', async () => {
    const disk = {
      ...realDisk,
      openToRead: async (path: string) => {
        if (path.endsWith('hot/locked.svg')) throw failure('EACCES');
        return realDisk.openToRead(path);
      },
    };
    const intake = await start({ disk });
    const wrong = Buffer.concat([Buffer.from(`${intake.root}/caf`), Buffer.from([0xe9]), Buffer.from('.svg')]);
    writeFileSync(wrong, svg('wrong'));
    intake.drop('locked.svg', svg('locked'));
    for (let n = 0; n <= 2_000; n++) intake.drop(`crowd/${n}.svg`, '');
    await intake.pass(75);
    const { settling } = await intake.watched.sweep();
    expect(settling).toBe(0);
    expect(intake.lines.sort()).toEqual([
      expect.stringMatching(
        /^caf\ufffd\.svg: cannot be looked at .*not UTF-8; give it another one.*stays where it is\.$/,
      ),
      expect.stringMatching(/^crowd: more files than one job can have\./),
      expect.stringMatching(/^locked\.svg: locked\.svg cannot be opened yet \(EACCES/),
    ]);
    expect(readdirSync(intake.root).filter((name) => !name.startsWith('.'))).toHaveLength(3);
    expect((await intake.opened.jobs.counts()).jobs).toBe(0);
  });

  it('puts a job that takes every try with it into one place, with one line', async () => {
    let tries = 0;
    const intake = await start({
      check: async () => {
        tries += 1;
        return { kind: 'broken', reason: 'The check was ended by SIGSEGV while measuring the plates.', tryAgain: true };
      },
    });
    intake.drop('bomb.svg', svg('bomb'));
    await intake.pass(6);
    const untilMs = performance.now() + 20_000;
    while (performance.now() < untilMs && !intake.lines.some((line) => line.startsWith('Not checked'))) {
      await new Promise((resolve) => setTimeout(resolve, 50));
    }
    await intake.done();
    expect(tries).toBe(2);
    const job = 'Not checked/bomb.svg, revision 1';
    expect(Object.keys(intake.files()).filter((name) => name.endsWith('bomb.svg'))).toEqual([`${job}/bomb.svg`]);
    expect(intake.lines.filter((line) => line.startsWith('Not checked: bomb.svg, revision 1.'))).toHaveLength(1);
    expect(intake.files()[`${job}/Film report/report.json`]).toBeDefined();
  });
});
