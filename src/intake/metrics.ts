import type { Server } from 'node:http';
import { createServer } from 'node:http';
import type { StoreCounts } from '../jobs/jobTypes.ts';

export interface Measured {
  readonly counts: StoreCounts | null;
  readonly handsBusy: number;
  readonly hands: number;
  /** Null where no folder is watched. */
  readonly folderThere: boolean | null;
  readonly secondsSinceSweep: number | null;
  readonly takenIn: number;
}

/** A sweep that has not ended for so long says that the folder does not answer. */
const slowSweepSeconds = 60;

/** Figures and state on this machine alone: /metrics in the Prometheus text format (version 0.0.4), /health. */
export async function serveMetrics(port: number, measure: () => Promise<Measured>): Promise<Server> {
  const server = createServer((request, response) => {
    const answer = (status: number, type: string, body: string) =>
      response.writeHead(status, { 'content-type': type, 'cache-control': 'no-store' }).end(body);
    measure().then(
      (measured) => {
        if (request.url === '/metrics') answer(200, 'text/plain; version=0.0.4; charset=utf-8', metricsText(measured));
        else if (request.url === '/health') {
          const trouble = troubleOf(measured);
          answer(trouble === null ? 200 : 503, 'text/plain; charset=utf-8', `${trouble ?? 'ok'}\n`);
        } else answer(404, 'text/plain; charset=utf-8', 'not here\n');
      },
      (error: Error) => answer(500, 'text/plain; charset=utf-8', `${error.message}\n`),
    );
  });
  await new Promise<void>((resolve, reject) => {
    server.once('error', reject);
    server.listen(port, '127.0.0.1', resolve);
  });
  return server;
}

function troubleOf({ counts, folderThere, secondsSinceSweep }: Measured): string | null {
  if (counts === null) return 'the job store cannot be used';
  if (folderThere === false) return 'the folder is away';
  if (secondsSinceSweep !== null && secondsSinceSweep > slowSweepSeconds)
    return `the folder has not answered for ${Math.round(secondsSinceSweep)} s`;
  return null;
}

export function metricsText(measured: Measured): string {
  const { counts } = measured;
  const lines: string[] = [];
  const add = (name: string, type: 'gauge' | 'counter' | 'summary', help: string, values: Record<string, number>) => {
    lines.push(`# HELP plateglass_${name} ${help}`, `# TYPE plateglass_${name} ${type}`);
    for (const [label, value] of Object.entries(values)) lines.push(`plateglass_${name}${label} ${value}`);
  };
  const byState = (states: Readonly<Record<string, number>>) =>
    Object.fromEntries(Object.entries(states).map(([state, count]) => [`{state="${state}"}`, count]));
  if (counts !== null) {
    add('revisions', 'gauge', 'Revisions of jobs by state.', byState(counts.revisions));
    add('jobs', 'gauge', 'Jobs in the store.', { '': counts.jobs });
    const oldest = (counts.oldestWaitingMs ?? 0) / 1000;
    add('oldest_waiting_seconds', 'gauge', 'Age of the oldest revision that waits; 0 when none does.', { '': oldest });
    add('job_seconds', 'summary', 'From taking up a job to its result.', {
      _sum: counts.worked.totalMs / 1000,
      _count: counts.worked.count,
    });
    add('notices', 'gauge', 'Notices and other effects by state.', byState(counts.effects));
    add('pending_moves', 'gauge', 'Jobs that are on their way to their folder.', { '': counts.pendingMoves });
  }
  add('hands', 'gauge', 'Jobs this process may check at once.', { '': measured.hands });
  add('hands_busy', 'gauge', 'Jobs this process checks now.', { '': measured.handsBusy });
  add('taken_in_total', 'counter', 'Drops taken in since the start.', { '': measured.takenIn });
  add('store_up', 'gauge', '1 when the job store answers.', { '': counts === null ? 0 : 1 });
  if (measured.folderThere !== null)
    add('folder_up', 'gauge', '1 when the watched folder is there.', { '': measured.folderThere ? 1 : 0 });
  return `${lines.join('\n')}\n`;
}
