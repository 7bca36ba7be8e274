import { spawnSync } from 'node:child_process';
import { existsSync, realpathSync } from 'node:fs';
import { dirname } from 'node:path';

/** What this machine can do to keep a decoder that goes wrong away from everything else. */
export interface Isolation {
  /** sandbox: sees its job and the program, no network. noNetwork: no network. none: neither. */
  readonly kind: 'sandbox' | 'noNetwork' | 'none';
  /** How a program without network is started, for noNetwork. */
  readonly withoutNetwork: readonly string[];
  /** Memory and processor time can be limited. */
  readonly limits: boolean;
}

export interface IsolatedCall {
  readonly program: string;
  readonly parameters: readonly string[];
  /** Files and folders that may be read, besides the system's and the program's own. */
  readonly readable: readonly string[];
  readonly writable: readonly string[];
  /** Folders of the program itself and of what it is run by. */
  readonly own: readonly string[];
  readonly memoryBytes: number;
  readonly cpuSeconds: number;
}

const systemFolders = ['/usr', '/bin', '/sbin', '/lib', '/lib32', '/lib64'];
/** What fonts, the loader and Ghostscript read; no names of people and no passwords. */
const systemFiles = [
  '/etc/alternatives',
  '/etc/ld.so.cache',
  '/etc/fonts',
  '/etc/ghostscript',
  '/etc/papersize',
  '/var/lib/ghostscript',
  '/var/cache/fontconfig',
];

/** Tries what there is; each way counts only when a program ran in it to its end. */
export function findIsolation(): Isolation {
  const works = (call: readonly string[]) =>
    spawnSync(call[0], call.slice(1), { stdio: 'ignore', timeout: 10_000 }).status === 0;
  const limits = works(['prlimit', '--data=1000000000', '--cpu=10', '--core=0', 'true']);
  if (works(['bwrap', ...sandbox([], [], []), 'true'])) return { kind: 'sandbox', withoutNetwork: [], limits };
  for (const withoutNetwork of [
    ['unshare', '--net', '--'],
    ['unshare', '--map-root-user', '--net', '--'],
  ])
    if (works([...withoutNetwork, 'true'])) return { kind: 'noNetwork', withoutNetwork, limits };
  return { kind: 'none', withoutNetwork: [], limits };
}

/** One line for the one who starts the program: how jobs are kept apart here, and what is missing. */
export function describeIsolation({ kind, limits }: Isolation): string {
  const walls = {
    sandbox: 'each in a process of its own that sees nothing but its films and has no network',
    noNetwork: 'each in a process of its own without network; install bubblewrap to keep them from other files too',
    none: 'each in a process of its own, but NOT kept from the network or other files: install bubblewrap',
  }[kind];
  return `Jobs are checked ${walls}${limits ? '' : '; memory is NOT limited: install util-linux (prlimit)'}.`;
}

/** The call with all walls this machine has around it. */
export function isolated(isolation: Isolation, call: IsolatedCall): { program: string; parameters: string[] } {
  const words: string[] = [];
  if (isolation.limits)
    words.push('prlimit', `--data=${call.memoryBytes}`, `--cpu=${call.cpuSeconds}`, '--core=0', '--');
  if (isolation.kind === 'sandbox') words.push('bwrap', ...sandbox(call.own, call.readable, call.writable), '--');
  else words.push(...isolation.withoutNetwork);
  words.push(call.program, ...call.parameters);
  return { program: words[0], parameters: words.slice(1) };
}

/** Parameters of bubblewrap. Later binds lie over earlier ones, so the job's folders are seen though /tmp is new. */
function sandbox(own: readonly string[], readable: readonly string[], writable: readonly string[]): string[] {
  const seen = (folders: readonly string[]) => folders.filter(existsSync).flatMap((path) => ['--ro-bind', path, path]);
  return [
    ...['--unshare-all', '--die-with-parent', '--new-session', '--clearenv', '--cap-drop', 'ALL'],
    ...seen([...systemFolders, ...systemFiles]),
    ...['--proc', '/proc', '--dev', '/dev', '--tmpfs', '/tmp'],
    ...seen([...new Set([...own, ...own.map((path) => realpathSync(path))])]),
    ...seen(readable),
    ...writable.flatMap((path) => ['--bind', path, path]),
    ...[
      '--setenv',
      'PATH',
      '/usr/local/bin:/usr/bin:/bin',
      '--setenv',
      'LANG',
      'C.UTF-8',
      '--setenv',
      'HOME',
      '/tmp',
      '--chdir',
      '/tmp',
    ],
  ];
}

/** The folder of the interpreter, where it is not one of the system's. */
export function interpreterFolder(): string {
  return dirname(realpathSync(process.execPath));
}
