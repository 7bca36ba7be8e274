import {
  PDFArray,
  PDFBool,
  type PDFContext,
  PDFDict,
  PDFHexString,
  PDFName,
  PDFNumber,
  type PDFObject,
  type PDFRawStream,
} from '@cantoo/pdf-lib';
import type { ArtObject } from '../../artwork/artObject.ts';
import { type ColourSpace, deviceCmyk, deviceGray, deviceRgb } from './colourSpace.ts';
import { ContentName, type Operand } from './contentTokens.ts';
import type { PageContext } from './pageContext.ts';
import type { ImageFacts } from './scene.ts';
import { filtersOf, longName } from './streamBytes.ts';

/** Facts of an image XObject, or null when its size is missing. */
export function readImage(context: PageContext, stream: PDFRawStream, resources: PDFDict | null): ImageFacts | null {
  return factsOf(context, stream.dict, stream, null, resources);
}

/** Facts of an inline image. */
export function readInlineImage(
  context: PageContext,
  entries: ReadonlyMap<string, Operand>,
  data: Uint8Array,
  resources: PDFDict | null,
): ImageFacts | null {
  const dict = PDFDict.withContext(context.values.context);
  for (const [key, value] of entries) {
    const object = objectOf(context.values.context, key === 'Filter' ? longFilters(value) : value);
    if (object) dict.set(PDFName.of(key), object);
  }
  return factsOf(context, dict, null, data, resources);
}

function factsOf(
  context: PageContext,
  dict: PDFDict,
  stream: PDFRawStream | null,
  inlineData: Uint8Array | null,
  resources: PDFDict | null,
): ImageFacts | null {
  const { values } = context;
  const isStencil = values.flag(dict, 'ImageMask') === true;
  const filters = filtersOf(values, dict).map(({ filter }) => filter);
  const jpx = filters.includes('JPXDecode') && stream ? readJpxHeader(stream.getContents()) : null;
  const widthPx = values.number(dict, 'Width') ?? jpx?.widthPx ?? 0;
  const heightPx = values.number(dict, 'Height') ?? jpx?.heightPx ?? 0;
  if (!(widthPx >= 1 && heightPx >= 1)) return null;
  const bilevelFilter = filters.includes('CCITTFaxDecode') || filters.includes('JBIG2Decode');
  const bits = isStencil || bilevelFilter ? 1 : (values.number(dict, 'BitsPerComponent') ?? jpx?.bits ?? 8);
  const spaceObject = values.get(dict, 'ColorSpace');
  let space: ColourSpace | null = null;
  if (!isStencil) {
    if (spaceObject) space = context.spaces.read(spaceObject, resources);
    else if (jpx) space = jpx.components >= 4 ? deviceCmyk : jpx.components === 3 ? deviceRgb : deviceGray;
    else if (bilevelFilter) space = deviceGray;
  }
  const hasMask = values.get(dict, 'SMask') !== null || values.get(dict, 'Mask') !== null;
  return { dict, stream, inlineData, widthPx, heightPx, bits, isStencil, space, hasMask, filters };
}

/** What kind of picture it is, for people. */
export function colourClassOf(image: ImageFacts): NonNullable<ArtObject['image']>['colour'] {
  if (image.isStencil) return 'bilevel';
  switch (image.space?.kind) {
    case 'gray':
      return image.bits === 1 ? 'bilevel' : 'grey';
    case 'rgb':
      return 'rgb';
    case 'cmyk':
      return 'cmyk';
    case 'inks':
      return image.bits === 1 && image.space.components === 1 ? 'bilevel' : 'spot';
    case 'indexed':
      return image.bits === 1 ? 'bilevel' : 'indexed';
    default:
      return 'other';
  }
}

/** Size and components from the image header (SIZ marker, ISO/IEC 15444-1, A.5.1). */
function readJpxHeader(bytes: Uint8Array) {
  for (let at = 0; at + 48 < Math.min(bytes.length, 65536); at++) {
    if (bytes[at] !== 0xff || bytes[at + 1] !== 0x4f || bytes[at + 2] !== 0xff || bytes[at + 3] !== 0x51) continue;
    const view = new DataView(bytes.buffer, bytes.byteOffset + at, bytes.length - at);
    return {
      widthPx: view.getUint32(8) - view.getUint32(16),
      heightPx: view.getUint32(12) - view.getUint32(20),
      components: view.getUint16(40),
      bits: (view.getUint8(42) & 0x7f) + 1,
    };
  }
  return null;
}

function longFilters(value: Operand): Operand {
  if (value instanceof ContentName) return new ContentName(longName(value.value));
  return Array.isArray(value) ? value.map(longFilters) : value;
}

/** A content-stream operand as an object of the document. */
export function objectOf(context: PDFContext, value: Operand): PDFObject | null {
  if (typeof value === 'number') return PDFNumber.of(value);
  if (typeof value === 'boolean') return value ? PDFBool.True : PDFBool.False;
  if (value instanceof ContentName) return PDFName.of(value.value);
  if (value instanceof Uint8Array) {
    return PDFHexString.of(Array.from(value, (byte) => byte.toString(16).padStart(2, '0')).join(''));
  }
  if (Array.isArray(value)) {
    const array = PDFArray.withContext(context);
    for (const item of value) array.push(objectOf(context, item) ?? PDFNumber.of(0));
    return array;
  }
  if (value instanceof Map) {
    const dict = PDFDict.withContext(context);
    for (const [key, item] of value) {
      const object = objectOf(context, item);
      if (object) dict.set(PDFName.of(key), object);
    }
    return dict;
  }
  return null;
}
