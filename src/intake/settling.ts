import type { Completeness } from './complete/completeness.ts';

/** How long a drop must have lain still. All times in milliseconds of a clock that nobody sets. */
export interface SettlingRules {
  readonly stillMs: number;
  readonly folderStillMs: number;
  /** Where the format does not say whether the file is all there. */
  readonly unknownStillMs: number;
  /** A file that is short for so long is taken as it is. */
  readonly longMs: number;
}

export const localRules: SettlingRules = {
  stillMs: 3_000,
  folderStillMs: 8_000,
  unknownStillMs: 20_000,
  longMs: 600_000,
};

export const shareRules: SettlingRules = {
  ...localRules,
  stillMs: 10_000,
  folderStillMs: 20_000,
  unknownStillMs: 60_000,
};

const fewestLooks = 3;

/** What is known of a drop from the looks at it so far. */
export interface Settling {
  /** Names, sizes, times and inodes of all its files, as one text. */
  readonly signature: string;
  readonly firstSeenMs: number;
  readonly stillSinceMs: number;
  readonly looks: number;
  readonly nextLookMs: number;
}

export function firstLook(signature: string, nowMs: number): Settling {
  return { signature, firstSeenMs: nowMs, stillSinceMs: nowMs, looks: 1, nextLookMs: nowMs };
}

/** Adds a look. A drop that changed starts to settle anew. */
export function lookAgain(before: Settling, signature: string, nowMs: number): Settling {
  if (signature !== before.signature) return { ...firstLook(signature, nowMs), firstSeenMs: before.firstSeenMs };
  return { ...before, looks: before.looks + 1, nextLookMs: nowMs + pauseMs(nowMs - before.stillSinceMs) };
}

/** What has not moved for long is looked at less often. */
function pauseMs(stillMs: number): number {
  if (stillMs < 60_000) return 0;
  return stillMs < 600_000 ? 10_000 : 60_000;
}

/** Whether the drop lay still for long enough to ask its format whether it is all there. */
export function hasSettled(
  settling: Settling,
  isFolder: boolean,
  marked: boolean,
  rules: SettlingRules,
  nowMs: number,
): boolean {
  if (marked) return true;
  const wantedMs = isFolder ? rules.folderStillMs : rules.stillMs;
  return settling.looks >= fewestLooks && nowMs - settling.stillSinceMs >= wantedMs;
}

/** Whether a settled drop may be taken, given what its files say of their ends. */
export function mayBeTaken(
  settling: Settling,
  worst: Completeness,
  marked: boolean,
  rules: SettlingRules,
  nowMs: number,
): boolean {
  if (worst === 'complete' || marked) return true;
  const stillMs = nowMs - settling.stillSinceMs;
  return stillMs >= (worst === 'unknown' ? rules.unknownStillMs : rules.longMs);
}
