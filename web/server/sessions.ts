import { createHash, randomBytes } from 'node:crypto';
import type { Account } from './accounts.ts';

/** A working day; then one signs in again. */
const sessionMs = 12 * 60 * 60 * 1000;
const mostSessions = 500;

interface Session {
  readonly account: Account;
  readonly until: number;
}

/** Who is signed in: kept in memory under a hash of the key, so a restart signs everybody out. */
export class Sessions {
  private readonly open = new Map<string, Session>();
  private readonly now: () => number;

  constructor(now: () => number = Date.now) {
    this.now = now;
  }

  /** A new key, which nobody has had before. */
  begin(account: Account): string {
    const key = randomBytes(32).toString('base64url');
    this.open.set(hashed(key), { account, until: this.now() + sessionMs });
    for (const [old, { until }] of this.open)
      if (until <= this.now() || this.open.size > mostSessions) this.open.delete(old);
    return key;
  }

  /** The account as it was at sign-in; null when the key is nobody's or too old. */
  of(key: string): Account | null {
    const session = this.open.get(hashed(key));
    return session !== undefined && session.until > this.now() ? session.account : null;
  }

  end(key: string): void {
    this.open.delete(hashed(key));
  }
}

function hashed(key: string): string {
  return createHash('sha256').update(key).digest('hex');
}
