import { execFileSync, spawnSync } from 'node:child_process';

const told = new Set<string>();

/**
 * Whether a program that checks ours is there. Where it is missing the test says so aloud and checks nothing; in
 * continuous integration, which installs them all, a missing one is an error.
 */
export function hasOracle(program: string): boolean {
  if (spawnSync('sh', ['-c', `command -v ${program}`]).status === 0) return true;
  sayMissing(program);
  return false;
}

/** Debian's python carries the packages compared with; another python on the path may not. */
export const python = '/usr/bin/python3';

/** Whether Debian's python has a package, as `hasOracle` of programs. */
export function hasPythonPackage(name: string): boolean {
  if (spawnSync(python, ['-c', `import ${name}`]).status === 0) return true;
  sayMissing(`${name} for python3`);
  return false;
}

/** Says once that something a comparison needs is missing; an error where it must not be. */
export function sayMissing(what: string): void {
  if (process.env.PLATEGLASS_ORACLES === 'required') throw new Error(`${what} is not installed, and here it must be.`);
  if (!told.has(what)) process.stderr.write(`NOT COMPARED: ${what} is not installed, so its comparison did not run.\n`);
  told.add(what);
}

export function runOracle(program: string, parameters: readonly string[], cwd?: string): string {
  return execFileSync(program, parameters, {
    cwd,
    encoding: 'utf8',
    stdio: ['ignore', 'pipe', 'pipe'],
    maxBuffer: 1 << 28,
  });
}
