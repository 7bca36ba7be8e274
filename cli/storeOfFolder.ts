import { stat } from 'node:fs/promises';
import { join } from 'node:path';
import type { Spool } from '../src/intake/spool.ts';
import { usualStoreLocation } from './jobs/storeLocation.ts';

/** Where the job store of a watched folder lies unless told: in the folder where one lies there, else where all do. */
export async function storeOfFolder({ home }: Spool): Promise<string> {
  const own = join(home, 'store');
  const isThere = await stat(join(own, 'store.sqlite')).then(
    () => true,
    () => false,
  );
  return isThere ? own : usualStoreLocation();
}
