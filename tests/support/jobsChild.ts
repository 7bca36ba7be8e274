import { type ChildProcess, spawn } from 'node:child_process';
import { existsSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { createInterface } from 'node:readline';
import { fileURLToPath } from 'node:url';

const built = join(dirname(dirname(dirname(fileURLToPath(import.meta.url)))), 'dist');

export interface JobsChild {
  /** What it printed so far, line by line. */
  readonly lines: readonly string[];
  until(condition: (lines: readonly string[]) => boolean): Promise<void>;
  kill(signal: NodeJS.Signals): Promise<void>;
  signal(signal: NodeJS.Signals): void;
  ended(): Promise<number | null>;
}

/**
 * A process of its own that opens a store and runs `body`: the inside of an async function with `store`, `open`, `say`
 * and `pause`. It uses the built program, so build before.
 */
export function jobsChild(location: string, body: string, through: readonly string[] = []): JobsChild {
  if (!existsSync(join(built, 'src/jobs/openJobStore.js'))) throw new Error('Run npm run build first.');
  const script = `
    import { openJobStore } from ${JSON.stringify(join(built, 'src/jobs/openJobStore.js'))};
    import { setTimeout as pause } from 'node:timers/promises';
    const say = (line) => new Promise((resolve) => process.stdout.write(line + '\\n', resolve));
    const open = (owner) => openJobStore({ location: ${JSON.stringify(location)}, blobFolder: ${JSON.stringify(`${location.startsWith('postgres') ? '/tmp/plateglass-jobs-unused' : location}/blobs`)}, owner });
    const opened = await open('a test').catch(async (error) => { await say(error.name + ': ' + error.message); process.exit(9); });
    const store = opened.jobs;
    await say('open');
    ${body}
    await opened.close();
  `;
  const [program, ...parameters] = [...through, process.execPath, '--input-type=module', '-e', script];
  const child = spawn(program, parameters, { stdio: ['ignore', 'pipe', 'inherit'] });
  return watch(child);
}

function watch(child: ChildProcess): JobsChild {
  const lines: string[] = [];
  const listeners = new Set<() => void>();
  const tell = () => {
    for (const listener of listeners) listener();
  };
  createInterface({ input: child.stdout! }).on('line', (line) => {
    lines.push(line);
    tell();
  });
  const end = new Promise<number | null>((resolve) => child.once('close', resolve));
  void end.then(tell);
  return {
    lines,
    until: (condition) =>
      new Promise((resolve, reject) => {
        const look = () => {
          if (condition(lines)) resolve();
          else if (child.exitCode !== null || child.signalCode !== null)
            reject(new Error(`The process ended (${child.exitCode ?? child.signalCode}) after: ${lines.join(' | ')}`));
          else return;
          listeners.delete(look);
        };
        listeners.add(look);
        look();
      }),
    kill: async (signal) => {
      child.kill(signal);
      await end;
    },
    signal: (signal) => void child.kill(signal),
    ended: () => end,
  };
}
