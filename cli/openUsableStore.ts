import type { OpenedStore, OpenOptions } from '../src/jobs/jobStore.ts';
import { openJobStore } from '../src/jobs/openJobStore.ts';
import { StoreUnreachableError, UnusableStoreError } from '../src/jobs/storeErrors.ts';
import { UsageError } from './usageError.ts';

/** Opens the job store; one that cannot be used is for its owner to put right. */
export async function openUsableStore(
  { store, blobs, recordsOnly }: Pick<OpenOptions, 'recordsOnly'> & { readonly store: string; readonly blobs?: string },
  owner: string,
): Promise<OpenedStore> {
  try {
    return await openJobStore({ location: store, blobFolder: blobs, recordsOnly, owner });
  } catch (error) {
    if (error instanceof UnusableStoreError || error instanceof StoreUnreachableError)
      throw new UsageError(error.message);
    throw error;
  }
}
