import { spawnSync } from 'node:child_process';
import { existsSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';

export const root = dirname(dirname(dirname(fileURLToPath(import.meta.url))));
const main = join(root, 'dist/cli/main.js');

export interface CliRun {
  readonly exitCode: number | null;
  readonly stdout: string;
  readonly stderr: string;
}

/** Runs the built program as a person would; `nodeOptions` are for Node itself. */
export function runCli(parameters: readonly string[], cwd: string = root, nodeOptions: readonly string[] = []): CliRun {
  if (!existsSync(main)) throw new Error('dist/ is not built; run `npm run build`.');
  const { status, stdout, stderr } = spawnSync(process.execPath, [...nodeOptions, main, ...parameters], {
    cwd,
    encoding: 'utf8',
    maxBuffer: 1 << 28,
    timeout: 110_000,
  });
  return { exitCode: status, stdout, stderr };
}
