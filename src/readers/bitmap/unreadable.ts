import { UnreadableFilmError } from '../../artwork/unreadableFilmError.ts';
import { DamagedPixels } from '../../raster/bitmap/damagedPixels.ts';

/** The error for a film whose pixels are not all there or make no sense. */
export function unreadablePixels(fileName: string, error: DamagedPixels): UnreadableFilmError {
  return error.truncated ? truncated(fileName, error.message, error) : damaged(fileName, error.message, error);
}

export function truncated(fileName: string, why: string, cause?: unknown): UnreadableFilmError {
  return new UnreadableFilmError(
    'truncated-file',
    fileName,
    `The file is cut short: ${why}.`,
    'Copy or send the file again, and check that the copy is as large as the original.',
    cause,
  );
}

export function damaged(fileName: string, why: string, cause?: unknown): UnreadableFilmError {
  return new UnreadableFilmError(
    'damaged-file',
    fileName,
    `The file is damaged: ${why}.`,
    'Export the film again from the program that made it.',
    cause,
  );
}

export function tooLarge(fileName: string, why: string, cause?: unknown): UnreadableFilmError {
  return new UnreadableFilmError(
    'too-large',
    fileName,
    `The file is too large to be checked: ${why}.`,
    'Export the film at its true size and at no more than 2400 ppi.',
    cause,
  );
}

/** Runs a decoding step and turns what it throws into a sentence about the file. */
export async function withFileName<T>(fileName: string, decode: () => Promise<T>): Promise<T> {
  try {
    return await decode();
  } catch (error) {
    if (error instanceof DamagedPixels) throw unreadablePixels(fileName, error);
    throw error;
  }
}
