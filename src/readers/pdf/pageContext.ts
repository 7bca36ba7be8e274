import type { PDFDict, PDFObject, PDFRawStream } from '@cantoo/pdf-lib';
import type { ArtObject } from '../../artwork/artObject.ts';
import { UnreadableFilmError } from '../../artwork/unreadableFilmError.ts';
import { PathStore } from '../../geometry/pathStore.ts';
import { ColourSpaces } from './colourSpace.ts';
import { FontBook } from './fonts.ts';
import { InkBook } from './inkBook.ts';
import { NoteBook } from './noteBook.ts';
import type { Layers } from './optionalContent.ts';
import type { PdfValues } from './pdfValues.ts';
import { decodedBytes } from './streamBytes.ts';

/** Named limits a hostile or broken file meets. */
export const limits = {
  objects: 1_500_000,
  operators: 20_000_000,
  forms: 300_000,
  pictureBytes: 700_000_000,
  nesting: 64,
  contentBytes: 512 * 1024 * 1024,
  tiles: 50_000,
  /** Tiles within tiles, all told. */
  tileDraws: 500_000,
} as const;

/** What all streams of a page share while it is walked. */
export class PageContext {
  readonly fileName: string;
  readonly values: PdfValues;
  readonly layers: Layers;
  readonly inks = new InkBook();
  readonly notes = new NoteBook();
  readonly store = new PathStore();
  readonly spaces: ColourSpaces;
  readonly fonts: FontBook;
  readonly objects: ArtObject[] = [];
  readonly widthMm: number;
  readonly heightMm: number;
  /** Streams being walked now, so that a form that draws itself ends. */
  readonly open = new Set<PDFObject>();
  /** Above 0 while parts are drawn that are no objects of their own (glyphs, tile cells). */
  mutedDepth = 0;
  /** Above 0 inside tile cells, whose place on the film is not yet known. */
  tileDepth = 0;
  /** How the transparency groups around the objects now met are laid on the page. */
  group: {
    readonly alpha: number;
    readonly blendMode: string;
    readonly isPlain: boolean;
    readonly isIsolated: boolean;
  } = {
    alpha: 1,
    blendMode: 'Normal',
    isPlain: true,
    isIsolated: false,
  };
  /** Whether anything was painted in colour, so that the page cannot be one ink's film. */
  readonly paints = { grey: false, colour: false };
  private lastPicture: { readonly stream: PDFRawStream; readonly bytes: Uint8Array | null } | null = null;
  private objectCount = 0;
  private operatorCount = 0;
  private formCount = 0;
  private contentBytes = 0;

  constructor(fileName: string, values: PdfValues, layers: Layers, widthMm: number, heightMm: number) {
    this.fileName = fileName;
    this.values = values;
    this.layers = layers;
    this.widthMm = widthMm;
    this.heightMm = heightMm;
    this.spaces = new ColourSpaces(values, this.inks);
    this.fonts = new FontBook(values);
  }

  nextObjectId(): string {
    if (++this.objectCount > limits.objects) this.refuse(`more than ${limits.objects} objects are on one page`);
    return `o${this.objectCount}`;
  }

  countOperator(): void {
    if (++this.operatorCount > limits.operators)
      this.refuse(`more than ${limits.operators} drawing commands are on one page`);
  }

  countForm(): void {
    if (++this.formCount > limits.forms) this.refuse(`more than ${limits.forms} forms are drawn on one page`);
  }

  countContent(bytes: number): void {
    this.contentBytes += bytes;
    if (this.contentBytes > limits.contentBytes)
      this.refuse('the drawing commands of one page unpack to more than 512 MB');
  }

  /** The samples of a picture, kept until the next one: several questions are asked of each. */
  unpackedPicture(stream: PDFRawStream): Uint8Array | null {
    if (this.lastPicture?.stream !== stream) {
      this.lastPicture = { stream, bytes: decodedBytes(this.values, stream, limits.pictureBytes + 1) };
    }
    return this.lastPicture.bytes;
  }

  forgetPicture(): void {
    this.lastPicture = null;
  }

  /** The entry of a resource category, references followed. */
  resource(resources: PDFDict | null, category: string, name: string): PDFObject | null {
    return this.values.get(this.values.dict(resources, category), name);
  }

  private refuse(problem: string): never {
    throw new UnreadableFilmError(
      'too-complex',
      this.fileName,
      `The PDF is too complex: ${problem}.`,
      'Ask for the film as a 1-bit TIFF, or for simpler art.',
    );
  }
}
