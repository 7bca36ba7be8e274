import { readAll } from '../../artwork/byteSource.ts';
import { UnreadableFilmError } from '../../artwork/unreadableFilmError.ts';
import { isPdf } from '../firstBytes.ts';
import type { Reader } from '../reader.ts';
import { endsWell, maxFileBytes, openPdf } from './openPdf.ts';
import { Layers } from './optionalContent.ts';
import { readPage } from './readPage.ts';
import { withSeparations } from './separations.ts';

/**
 * Reads PDF (ISO 32000), and illustration files that are PDF inside. Every page is a film. Inks are those really
 * painted, found by walking the content; inks declared only are listed as unused.
 */
export const pdfReader: Reader = {
  formats: ['pdf'],
  recognises: isPdf,
  read: async (source, options) => {
    const { name } = source;
    if (source.sizeBytes === 0) {
      throw new UnreadableFilmError('empty-file', name, 'The file is empty.', 'Send the file again.');
    }
    if (source.sizeBytes > maxFileBytes) {
      throw new UnreadableFilmError('too-large', name, 'The PDF is larger than 512 MB.', 'Send the films one by one.');
    }
    const bytes = await readAll(source);
    const pdf = await openPdf(name, bytes, options.password);
    const layers = new Layers(pdf.values, pdf.catalog);
    const readings = pdf.pages.map((page, index) => readPage(name, pdf, layers, page, index + 1));
    const films = withSeparations(pdf.values, pdf.catalog, readings);
    if (endsWell(bytes)) return films;
    return films.map((film) => ({
      ...film,
      notes: [
        ...film.notes,
        {
          code: 'broken-end',
          message: 'The PDF breaks off before its end; what could be found was drawn, but parts may be missing.',
          affects: 'plate' as const,
        },
      ],
    }));
  },
};
