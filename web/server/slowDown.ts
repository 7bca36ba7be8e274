/** Lets something be tried so often in a stretch of time, for each of those who try. */
export class SlowDown {
  private readonly tries = new Map<string, { count: number; readonly until: number }>();
  private readonly most: number;
  private readonly withinMs: number;
  private readonly now: () => number;

  constructor(most: number, withinMs: number, now: () => number = Date.now) {
    this.most = most;
    this.withinMs = withinMs;
    this.now = now;
  }

  /** Counts a try; false when there were too many. */
  mayTry(who: string): boolean {
    const now = this.now();
    if (this.tries.size > 10_000) for (const [one, { until }] of this.tries) if (until <= now) this.tries.delete(one);
    const known = this.tries.get(who);
    if (known === undefined || known.until <= now) {
      this.tries.set(who, { count: 1, until: now + this.withinMs });
      return true;
    }
    known.count += 1;
    return known.count <= this.most;
  }

  /** Whether there were too many tries; counts none. */
  isOver(who: string): boolean {
    const known = this.tries.get(who);
    return known !== undefined && known.until > this.now() && known.count >= this.most;
  }

  forget(who: string): void {
    this.tries.delete(who);
  }
}
