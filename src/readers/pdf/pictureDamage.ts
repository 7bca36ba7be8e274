import type { BoxMm } from '../../geometry/box.ts';
import { limits, type PageContext } from './pageContext.ts';
import type { ImageFacts } from './scene.ts';
import { isDamaged } from './streamBytes.ts';

const knownFilters = new Set([
  'FlateDecode',
  'LZWDecode',
  'ASCII85Decode',
  'ASCIIHexDecode',
  'RunLengthDecode',
  'Crypt',
  'CCITTFaxDecode',
  'JBIG2Decode',
  'DCTDecode',
  'JPXDecode',
]);

/** Notes what the renderer would leave out without a word: pictures that are damaged, too large or of unknown packing. */
export function notePictureDamage(context: PageContext, image: ImageFacts, boxMm: BoxMm): void {
  const problem = problemOf(context, image);
  if (problem)
    context.notes.add('damaged-picture', 'plate', `A picture ${problem}; what is drawn of it is not verified.`, {
      boxMm,
    });
}

function problemOf(context: PageContext, image: ImageFacts): string | null {
  const unknown = image.filters.find((filter) => !knownFilters.has(filter));
  if (unknown) return `is packed by "${unknown}", which this program does not know`;
  const components = image.space?.components ?? 1;
  const rowBytes = Math.ceil((image.widthPx * components * image.bits) / 8);
  if (rowBytes * image.heightPx > limits.pictureBytes) return 'is larger than this program draws';
  const last = image.filters[image.filters.length - 1];
  const packed = image.inlineData ?? image.stream?.getContents();
  if (!packed || packed.length === 0) return 'is empty';
  if (last === 'DCTDecode') return jpegProblem(image);
  if (last === 'JPXDecode' && image.filters.length === 1 && !isWholeJpx(packed)) return 'is a damaged JPEG 2000';
  if (last === 'CCITTFaxDecode' || last === 'JBIG2Decode' || last === 'JPXDecode' || !image.stream) return null;
  const bytes = context.unpackedPicture(image.stream);
  if (!bytes) return 'cannot be unpacked';
  if (isDamaged(image.stream) || bytes.length < rowBytes * image.heightPx) return 'is damaged or too short';
  return null;
}

/** Looks at the frame header of a JPEG (ITU-T T.81, B.2.2): size and components have to be those the PDF names. */
function jpegProblem(image: ImageFacts): string | null {
  const bytes = image.filters.length === 1 ? (image.inlineData ?? image.stream?.getContents()) : null;
  if (!bytes) return null;
  if (bytes[0] !== 0xff || bytes[1] !== 0xd8) return 'is no JPEG though the file says so';
  for (let at = 2; at + 9 < bytes.length; ) {
    if (bytes[at] !== 0xff) return 'is a damaged JPEG';
    const marker = bytes[at + 1];
    if (marker === 0xff) {
      at++;
      continue;
    }
    const isFrame = marker >= 0xc0 && marker <= 0xcf && marker !== 0xc4 && marker !== 0xc8 && marker !== 0xcc;
    if (isFrame) {
      const height = bytes[at + 5] * 256 + bytes[at + 6];
      const width = bytes[at + 7] * 256 + bytes[at + 8];
      if (marker > 0xc2 || bytes[at + 4] !== 8) return 'is a JPEG of a rare kind';
      if (width !== image.widthPx || height !== image.heightPx) return 'is a JPEG of another size than the file says';
      const components = image.space?.kind === 'indexed' ? 1 : image.space?.components;
      return bytes[at + 9] === components ? null : 'is a JPEG of other components than the file says';
    }
    at += 2 + bytes[at + 2] * 256 + bytes[at + 3];
  }
  return 'is a JPEG that breaks off';
}

/** Start and end of code stream (ISO/IEC 15444-1, A.4): a picture that breaks off lacks the second. */
function isWholeJpx(bytes: Uint8Array): boolean {
  const buffer = Buffer.from(bytes.buffer, bytes.byteOffset, bytes.length);
  return (
    buffer.includes(Buffer.from([0xff, 0x4f, 0xff, 0x51])) &&
    buffer.lastIndexOf(Buffer.from([0xff, 0xd9])) > bytes.length - 64
  );
}
