import { UnreadableFilmError } from '../src/artwork/unreadableFilmError.ts';
import { WrongTicketError } from '../src/ticket/ticket.ts';
import { UsageError } from './usageError.ts';

/** One clear sentence for people; a stack only for a fault of the program itself. */
export function printError(error: unknown): void {
  process.stderr.write(`${describeError(error)}\n`);
}

export function describeError(error: unknown): string {
  if (error instanceof UnreadableFilmError)
    return plain(`plateglass: ${error.fileName}: ${error.message} ${error.remedy}`);
  if (error instanceof UsageError) return plain(`plateglass: ${error.message}`);
  if (error instanceof WrongTicketError) {
    const lines = error.problems.map(({ path, expected, received }) =>
      plain(`  ${path || '(top)'}: expected ${expected}, received ${received}`),
    );
    return [plain(`plateglass: ${error.message}`), ...lines].join('\n');
  }
  const stack = error instanceof Error ? (error.stack ?? error.message) : String(error);
  return `plateglass: this is a fault of the program, not of your film. Please report it with the file.\n${stack}`;
}

/** Names from files may hold control characters; a terminal must not obey them. */
function plain(text: string): string {
  // biome-ignore lint/suspicious/noControlCharactersInRegex: these are the characters to take out.
  return text.replace(/[\u0000-\u001f\u007f-\u009f]/g, ' ');
}
