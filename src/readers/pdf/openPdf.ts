import { PDFDict, PDFDocument, PDFName, type PDFObject, PDFRef } from '@cantoo/pdf-lib';
import { type UnreadableFilmCode, UnreadableFilmError } from '../../artwork/unreadableFilmError.ts';
import { pdfHeaderOffset } from '../firstBytes.ts';
import { asDict, PdfValues } from './pdfValues.ts';

/** Largest file that is opened. */
export const maxFileBytes = 512 * 1024 * 1024;
const maxPages = 2000;
const maxTreeDepth = 64;

export interface OpenPdf {
  readonly values: PdfValues;
  readonly catalog: PDFDict | null;
  readonly pages: readonly OpenPage[];
}

/** A page with what it inherits from the page tree (ISO 32000-1, 7.7.3.4). */
export interface OpenPage {
  readonly dict: PDFDict;
  readonly resources: PDFDict | null;
  readonly mediaBox: readonly number[] | null;
  readonly cropBox: readonly number[] | null;
  readonly rotate: number;
}

/** Opens a PDF, decrypted and repaired as far as that goes; throws `UnreadableFilmError` when it cannot be. */
export async function openPdf(fileName: string, bytes: Uint8Array, password: string | undefined): Promise<OpenPdf> {
  const start = pdfHeaderOffset(bytes);
  const document = await load(fileName, start > 0 ? bytes.subarray(start) : bytes, password);
  const values = new PdfValues(document.context);
  const catalog = asDict(values.resolve(document.context.trailerInfo.Root));
  const pages = readPages(values, catalog);
  if (pages.length === 0) {
    if (!endsWell(bytes)) throw explained(fileName, bytes, password, 'no page before the end');
    throw refusal('no-page', fileName, 'The PDF has no page.', 'Export the film again and send a PDF with its pages.');
  }
  return { values, catalog, pages };
}

async function load(fileName: string, bytes: Uint8Array, password: string | undefined): Promise<PDFDocument> {
  // A password meant for another film of the job must not lock a film that opens without one.
  const tries = password ? [password, ''] : [''];
  let first: unknown = null;
  for (const attempt of tries) {
    try {
      return await PDFDocument.load(bytes, {
        updateMetadata: false,
        parseSpeed: Number.POSITIVE_INFINITY,
        throwOnInvalidObject: false,
        password: attempt,
      });
    } catch (error) {
      first ??= error;
    }
  }
  throw explained(fileName, bytes, password, first);
}

function explained(
  fileName: string,
  bytes: Uint8Array,
  password: string | undefined,
  cause: unknown,
): UnreadableFilmError {
  const text = cause instanceof Error ? `${cause.name} ${cause.message}` : String(cause);
  if (/password/i.test(text)) {
    return password
      ? refusal('wrong-password', fileName, 'The password does not open the PDF.', 'Ask for the right password.', cause)
      : refusal(
          'password-needed',
          fileName,
          'The PDF is locked with a password.',
          'Give the password, or ask for a PDF without one.',
          cause,
        );
  }
  if (/crypt|algorithm|key length/i.test(text)) {
    const problem = 'The PDF is protected in a way this program does not know.';
    return refusal('damaged-file', fileName, problem, 'Ask for a PDF without protection.', cause);
  }
  const remedy = 'Send the file again, or export it anew.';
  return endsWell(bytes)
    ? refusal('damaged-file', fileName, 'The PDF is damaged and cannot be opened.', remedy, cause)
    : refusal('truncated-file', fileName, 'The PDF breaks off before its end.', remedy, cause);
}

/** Whether an end mark stands in the last two kilobytes. */
export function endsWell(bytes: Uint8Array): boolean {
  return Buffer.from(bytes.subarray(Math.max(0, bytes.length - 2048))).includes('%%EOF');
}

function refusal(code: UnreadableFilmCode, file: string, problem: string, remedy: string, cause?: unknown) {
  return new UnreadableFilmError(code, file, problem, remedy, cause);
}

interface Inherited {
  readonly resources: PDFDict | null;
  readonly mediaBox: readonly number[] | null;
  readonly cropBox: readonly number[] | null;
  readonly rotate: number;
}

function readPages(values: PdfValues, catalog: PDFDict | null): OpenPage[] {
  const pages: OpenPage[] = [];
  const seen = new Set<PDFDict>();
  const visit = (object: PDFObject | null, inherited: Inherited, depth: number): void => {
    const dict = asDict(object);
    if (!dict || seen.has(dict) || depth > maxTreeDepth || pages.length >= maxPages) return;
    seen.add(dict);
    const own: Inherited = {
      resources: values.dict(dict, 'Resources') ?? inherited.resources,
      mediaBox: boxOf(values, dict, 'MediaBox') ?? inherited.mediaBox,
      cropBox: boxOf(values, dict, 'CropBox') ?? inherited.cropBox,
      rotate: values.number(dict, 'Rotate') ?? inherited.rotate,
    };
    const kids = values.listOf(dict, 'Kids');
    if (kids) for (const kid of kids) visit(kid, own, depth + 1);
    else if (values.name(dict, 'Type') !== 'Pages') pages.push({ dict, ...own });
  };
  const none: Inherited = { resources: null, mediaBox: null, cropBox: null, rotate: 0 };
  visit(values.get(catalog, 'Pages'), none, 0);
  if (pages.length > 0) return pages;
  // A damaged tree: the pages that can be found are better than none.
  for (const [ref, object] of values.context.enumerateIndirectObjects()) {
    if (ref instanceof PDFRef && object instanceof PDFDict && object.get(PDFName.of('Type')) === PDFName.of('Page')) {
      visit(object, none, 0);
    }
  }
  return pages;
}

/** A page box as left, bottom, right, top; null when it is none. */
export function boxOf(values: PdfValues, dict: PDFDict, key: string): number[] | null {
  const box = values.numbersOf(dict, key);
  if (!box || box.length < 4) return null;
  return [Math.min(box[0], box[2]), Math.min(box[1], box[3]), Math.max(box[0], box[2]), Math.max(box[1], box[3])];
}
