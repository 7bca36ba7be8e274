import { spawnSync } from 'node:child_process';
import { existsSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { openJobStore } from '../../src/jobs/openJobStore.ts';
import { root as projectRoot } from '../cli/runCli.ts';
import { filesBelow, sha256, svg } from './support/testIntake.ts';

const program = join(projectRoot, 'dist/tests/intake/support/killedIntake.js');
const film = svg('festival');
const ticket = 'job: Festival';

let folder: string;

beforeAll(() => {
  if (!existsSync(program)) throw new Error('dist/ is not built; run `npm run build`.');
  folder = mkdtempSync(join(tmpdir(), 'killed-'));
});

afterAll(() => rmSync(folder, { recursive: true, force: true }));

function run(hot: string, killAt: number): { signal: string | null; said: string } {
  const { signal, stdout, stderr } = spawnSync(process.execPath, [program, hot, String(killAt)], {
    encoding: 'utf8',
    timeout: 60_000,
    killSignal: 'SIGTERM',
  });
  return { signal, said: `${stdout}${stderr}` };
}

function drop(name: string): string {
  const hot = join(folder, name);
  spawnSync('mkdir', ['-p', hot]);
  writeFileSync(join(hot, 'festival.svg'), film);
  writeFileSync(join(hot, 'festival.yaml'), ticket);
  return hot;
}

const place = 'Ready to film/festival.svg, revision 1';
const whole = {
  [`${place}/festival.svg`]: sha256(film),
  [`${place}/festival.yaml`]: sha256(ticket),
  [`${place}/Film report/report.html`]: expect.any(String),
  [`${place}/Film report/report.json`]: expect.any(String),
  [`${place}/Film report/report.pdf`]: expect.any(String),
};

describe('killed at any step', () => {
  it('a restart brings every file to one place, every job to one state, and tells of it once', {
    timeout: 600_000,
  }, async () => {
    const { said } = run(drop('whole'), 0);
    expect(filesBelow(join(folder, 'whole'))).toEqual(whole);
    const steps = Number(/ended after (\d+) calls/.exec(said)?.[1]);
    expect(steps).toBeGreaterThan(30);
    const wrong: string[] = [];
    for (let step = 1; step <= steps; step++) {
      const hot = drop(`step ${step}`);
      const killed = run(hot, step);
      // Whether the fault fired: it did not come to its end.
      if (killed.signal !== 'SIGKILL') wrong.push(`step ${step} was not killed: ${killed.said}`);
      const restarted = run(hot, 0);
      if (restarted.signal !== null) wrong.push(`step ${step}, ${killed.said.trim()}: the restart did not end`);
      const files = filesBelow(hot);
      try {
        expect(files).toEqual(whole);
      } catch {
        wrong.push(`step ${step}, ${killed.said.trim()}: ${Object.keys(files).join(' | ')}`);
      }
      const opened = await openJobStore({ location: `${hot}.store`, owner: 'a test' });
      const { jobs, revisions, effects, pendingMoves } = await opened.jobs.counts();
      const counts = [jobs, revisions.checked, effects.waiting, pendingMoves];
      if (counts.join() !== '1,1,1,0') wrong.push(`step ${step}, ${killed.said.trim()}: counts ${counts.join()}`);
      await opened.close();
      rmSync(hot, { recursive: true });
    }
    expect(wrong).toEqual([]);
  });
});
