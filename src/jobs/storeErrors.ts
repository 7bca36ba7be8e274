/** The store cannot be reached now: connection cut, owner gone. Whether the call was carried out is not known. */
export class StoreUnreachableError extends Error {
  override readonly name = 'StoreUnreachableError';
}

/** The store cannot be used as it is (newer version, damaged, wrong place, full disk); the message says what to do. */
export class UnusableStoreError extends Error {
  override readonly name = 'UnusableStoreError';
}

/** What the caller asked for cannot be: an unknown revision, an arrival without files. */
export class StoreRequestError extends Error {
  override readonly name = 'StoreRequestError';
}
