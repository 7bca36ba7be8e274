import type { Transaction } from './database.ts';

const longestPauseMs = 600_000;

/** After a try without an answer: 5 s, 10 s, 20 s …, at most ten minutes. */
export function pauseAfterFailureMs(failures: number): number {
  return Math.min(longestPauseMs, 5_000 * 2 ** (failures - 1));
}

/** So much the clock of the database may gain on that of the process between two looks without having been set. */
const gainMs = 2_000;

/**
 * Reads the clock of the database, and sees to it when that was set since this process looked last: back, or on, which
 * is told by a clock of the process that nobody sets.
 */
export class ClockWatch {
  #latest = Number.POSITIVE_INFINITY;
  #latestMonotonic = Number.POSITIVE_INFINITY;
  readonly #monotonicMs: () => number;

  constructor(monotonicMs: () => number = () => performance.now()) {
    this.#monotonicMs = monotonicMs;
  }

  async look(transaction: Transaction): Promise<number> {
    const now = await transaction.now();
    const monotonicMs = this.#monotonicMs();
    if (now < this.#latest) await cutToClock(transaction, now);
    else if (now - this.#latest > monotonicMs - this.#latestMonotonic + gainMs) await giveLeasesAnew(transaction, now);
    this.#latest = now;
    this.#latestMonotonic = monotonicMs;
    return now;
  }

  /** What was seen to may have been undone with its transaction: see to it again. */
  forget(): void {
    this.#latest = Number.POSITIVE_INFINITY;
    this.#latestMonotonic = Number.POSITIVE_INFINITY;
  }
}

/**
 * A clock that was set on, or a machine that slept, must not take work from those who are at it: each lease has its whole
 * length from now, in which whoever is alive renews it.
 */
async function giveLeasesAnew(transaction: Transaction, now: number): Promise<void> {
  for (const table of ['revisions', 'effects'])
    await transaction.change(
      `UPDATE ${table} SET lease_until = ? + lease_ms WHERE state = 'working' AND lease_until < ? + lease_ms`,
      [now, now],
    );
  await transaction.change(
    `UPDATE revisions SET move_lease_until = ? + move_lease_ms
      WHERE moving_to IS NOT NULL AND move_lease_until < ? + move_lease_ms`,
    [now, now],
  );
}

/**
 * A clock that was set back must not leave leases or pauses that end far in the future: none may last longer from now
 * than it was meant to in all. `lease_ms` is the length of the lease, or of the pause of what waits.
 */
async function cutToClock(transaction: Transaction, now: number): Promise<void> {
  for (const table of ['revisions', 'effects']) {
    await transaction.change(
      `UPDATE ${table} SET lease_until = ? + lease_ms WHERE state = 'working' AND lease_until > ? + lease_ms`,
      [now, now],
    );
    await transaction.change(
      `UPDATE ${table} SET claimable_from = ? + lease_ms WHERE state = 'waiting' AND claimable_from > ? + lease_ms`,
      [now, now],
    );
  }
  await transaction.change(
    `UPDATE revisions SET move_lease_until = ? + move_lease_ms
      WHERE moving_to IS NOT NULL AND move_lease_until > ? + move_lease_ms`,
    [now, now],
  );
}
