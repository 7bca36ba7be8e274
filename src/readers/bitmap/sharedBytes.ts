const sharedFrom = 1_000_000;

/** Large files lie in shared memory, so that workers drawing their plates need no copy. */
export function sharedBytes(bytes: Uint8Array): Uint8Array {
  if (bytes.length < sharedFrom || bytes.buffer instanceof SharedArrayBuffer) return bytes;
  const shared = new Uint8Array(new SharedArrayBuffer(bytes.length));
  shared.set(bytes);
  return shared;
}
