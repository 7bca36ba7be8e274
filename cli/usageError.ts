/** Something about the call that its maker can put right; the message says how. */
export class UsageError extends Error {
  override readonly name = 'UsageError';
}
