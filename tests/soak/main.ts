import { mkdtempSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { parseArgs } from 'node:util';
import { soak } from './soak.ts';

/** node dist/tests/soak/main.js [--jobs 2000] [--kill-every 5] [--limit 7200] [--seed 1] [--folder DIR] */
const { values } = parseArgs({
  options: {
    jobs: { type: 'string', default: '2000' },
    'kill-every': { type: 'string', default: '5' },
    limit: { type: 'string', default: '7200' },
    seed: { type: 'string', default: '1' },
    folder: { type: 'string' },
  },
});
const folder = values.folder ?? mkdtempSync(join(tmpdir(), 'soak-'));
const result = await soak({
  folder,
  jobs: Number(values.jobs),
  killEveryS: Number(values['kill-every']),
  limitS: Number(values.limit),
  seed: Number(values.seed),
});
process.stdout.write(`${JSON.stringify({ folder, ...result }, null, 2)}\n`);
const sound =
  result.foundOnce === result.files &&
  result.jobsInStore === result.dropped &&
  result.couldNotRun === result.damaged &&
  result.unfinished + result.changed.length + result.withoutReport.length === 0;
process.exit(sound ? 0 : 1);
