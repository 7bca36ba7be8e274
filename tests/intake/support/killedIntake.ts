import { realDisk } from '../../../src/intake/disk.ts';
import type { JobStore } from '../../../src/jobs/jobStore.ts';
import { faultyDisk } from './faultyDisk.ts';
import { passes, TestIntake } from './testIntake.ts';

/**
 * Takes in and checks what lies in a folder, and kills itself with SIGKILL ahead of the call with a number; with 0 it
 * comes to its end and prints how many calls there were. Calls are those to the file system that change something, and
 * those to the store that do.
 *
 * node killedIntake.js FOLDER NUMBER
 */
const [root, numberText] = process.argv.slice(2);
const killAt = Number(numberText);
let calls = 0;
const count = (what: string) => {
  calls += 1;
  if (calls !== killAt) return;
  process.stdout.write(`killed ahead of ${what}\n`);
  process.kill(process.pid, 'SIGKILL');
};

const changing = new Set(['takeIn', 'finish', 'endMove', 'planMove', 'handBack', 'fail']);
const counted = (store: JobStore): JobStore =>
  new Proxy(store, {
    get: (target, name) => {
      const value = Reflect.get(target, name) as unknown;
      if (typeof value !== 'function') return value;
      return (...parameters: unknown[]) => {
        if (changing.has(String(name))) count(`store ${String(name)}`);
        return (value as (...given: unknown[]) => unknown).apply(target, parameters);
      };
    },
  });

let notices = 0;
const intake = await TestIntake.open(root, {
  disk: faultyDisk(realDisk, (call, path) => count(`${call} ${path}`)),
  wrapStore: counted,
  rules: { stillMs: 0, folderStillMs: 0, unknownStillMs: 0, longMs: 0 },
  check: passes,
  leaseMs: 1_500,
  notices: (ended) => [
    {
      key: `notice:${ended.revisionId}:${ended.at}`,
      kind: 'notice.command',
      payload: ++notices,
      revisionId: ended.revisionId,
    },
  ],
});
await intake.start();
await intake.pass(4);
await intake.done();
// The hands put away their working folders after the store has nothing left to do; those calls are counted too.
await intake.close();
process.stdout.write(`ended after ${calls} calls\n`);
process.exit(0);
