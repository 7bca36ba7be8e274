import { UnreadableFilmError } from '../src/artwork/unreadableFilmError.ts';
import { StoreRequestError, StoreUnreachableError, UnusableStoreError } from '../src/jobs/storeErrors.ts';
import { WrongTicketError } from '../src/ticket/ticket.ts';
import { plainText } from './plainText.ts';
import { UsageError } from './usageError.ts';

/** One clear sentence for people; a stack only for a fault of the program itself. */
export function printError(error: unknown): void {
  process.stderr.write(`${describeError(error)}\n`);
}

export function describeError(error: unknown): string {
  if (error instanceof UnreadableFilmError)
    return plainText(`plateglass: ${error.fileName}: ${error.message} ${error.remedy}`);
  if (isOfStore(error)) return plainText(`plateglass: ${error.message}`);
  if (error instanceof UsageError) return plainText(`plateglass: ${error.message}`);
  if (error instanceof WrongTicketError) {
    const lines = error.problems.map(({ path, expected, received }) =>
      plainText(`  ${path || '(top)'}: expected ${expected}, received ${received}`),
    );
    return [plainText(`plateglass: ${error.message}`), ...lines].join('\n');
  }
  const stack = error instanceof Error ? (error.stack ?? error.message) : String(error);
  return `plateglass: this is a fault of the program, not of your film. Please report it with the file.\n${stack}`;
}

function isOfStore(error: unknown): error is Error {
  return (
    error instanceof StoreRequestError || error instanceof StoreUnreachableError || error instanceof UnusableStoreError
  );
}
