import { join, resolve } from 'node:path';
import { isPostgres } from '../src/jobs/openJobStore.ts';
import { Accounts } from '../web/server/accounts.ts';
import { usualStoreLocation } from './jobs/storeLocation.ts';

/** Where the review keeps what is of this machine alone: the store's folder, or with PostgreSQL the usual one. */
export function homeOf(storeLocation: string): string {
  return isPostgres(storeLocation) ? usualStoreLocation() : resolve(storeLocation);
}

export function accountsIn(home: string): Accounts {
  return new Accounts(join(home, 'accounts.json'));
}
