import { byteSourceOf, readAll } from '../../artwork/byteSource.ts';
import type { ReadFilm } from '../../artwork/film.ts';
import type { ReadNote } from '../../artwork/readNote.ts';
import { UnreadableFilmError } from '../../artwork/unreadableFilmError.ts';
import type { Reader } from '../reader.ts';
import { postscriptOf, startsAsPostscript } from './binaryHeader.ts';

/**
 * Turns PostScript into PDF outside this program, in a process with limits of its own. Null when no interpreter is
 * there; throws when the interpreter refuses the file.
 */
export type ConvertPostscript = (bytes: Uint8Array) => Promise<{ pdf: Uint8Array; program: string } | null>;

/** A file that asks the interpreter for more than this is no film. */
const maxPostscriptBytes = 500_000_000;

/**
 * Reads EPS and PostScript by way of PDF: PostScript is a program, so an interpreter has to run it first. Without one
 * such a file is unreadable (`interpreter-missing`).
 */
export function postscriptReader(convert: ConvertPostscript | null, pdfReader: Reader): Reader {
  return {
    formats: ['eps'],
    recognises: startsAsPostscript,
    read: async (source, options) => {
      if (source.sizeBytes > maxPostscriptBytes) {
        throw new UnreadableFilmError(
          'too-large',
          source.name,
          `The file is larger than ${maxPostscriptBytes / 1e6} MB of PostScript.`,
          'Save the film as PDF or as TIFF.',
        );
      }
      const program = postscriptOf(await readAll(source));
      if (program === null) {
        throw new UnreadableFilmError(
          'truncated-file',
          source.name,
          'The file is cut short: its PostScript lies past the end of the file.',
          'Copy or send the file again.',
        );
      }
      const converted = convert === null ? null : await run(convert, program, source.name);
      if (converted === null) {
        throw new UnreadableFilmError(
          'interpreter-missing',
          source.name,
          'The file is PostScript, and no PostScript interpreter was found to run it.',
          'Install Ghostscript (the command gs), or save the film as PDF.',
        );
      }
      const films = await pdfReader.read(byteSourceOf(source.name, converted.pdf), options);
      return films.map((film) => asPostscript(film, converted.program));
    },
  };
}

async function run(
  convert: ConvertPostscript,
  program: Uint8Array,
  fileName: string,
): Promise<{ pdf: Uint8Array; program: string } | null> {
  try {
    return await convert(program);
  } catch (error) {
    const why = error instanceof Error ? error.message : 'no reason given';
    throw new UnreadableFilmError(
      'damaged-file',
      fileName,
      `The file was refused by the PostScript interpreter: ${why}.`,
      'Save the film as PDF from the program that made it.',
      error,
    );
  }
}

function asPostscript(film: ReadFilm, program: string): ReadFilm {
  const note: ReadNote = {
    code: 'converted-from-postscript',
    message: `The PostScript was turned into PDF by ${program}; what is checked is that PDF.`,
    affects: 'nothing',
  };
  return { ...film, format: 'eps', notes: [note, ...film.notes] };
}
