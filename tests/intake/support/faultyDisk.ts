import type { Disk } from '../../../src/intake/disk.ts';

const changing = [
  'create',
  'makeFolder',
  'rename',
  'renameToFree',
  'remove',
  'makeLink',
  'sync',
  'syncFolder',
] as const;

export type DiskCall = (typeof changing)[number];

/** Calls `before` ahead of every call that changes something; what it throws is thrown instead of making the call. */
export function faultyDisk(disk: Disk, before: (call: DiskCall, path: string) => void): Disk {
  const faulty = { ...disk } as Record<string, unknown>;
  for (const call of changing) {
    const real = disk[call] as (...parameters: unknown[]) => Promise<unknown>;
    faulty[call] = async (...parameters: unknown[]) => {
      before(call, String(parameters.at(-1)));
      return real(...parameters);
    };
  }
  return faulty as unknown as Disk;
}

export function failure(code: string): Error {
  return Object.assign(new Error(`${code}: made by the test`), { code, syscall: 'write' });
}
