/** Time as intake sees it. Waiting is measured by the first, which no setting of the clock moves; dates are told by the second. */
export interface Clock {
  /** Milliseconds from any fixed moment; never goes back. */
  monotonicMs(): number;
  date(): Date;
}

export const systemClock: Clock = {
  monotonicMs: () => performance.now(),
  date: () => new Date(),
};
