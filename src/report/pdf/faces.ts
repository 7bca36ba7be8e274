import { type FontSubset, type FontWeight, loadFont } from '../assets/loadFonts.ts';

/** Letters of one face; `width` in thousandths of the size of type. */
export interface Piece {
  readonly font: string;
  readonly text: string;
  readonly width: number;
}

const subsets: readonly FontSubset[] = ['latin', 'latin-ext', 'greek', 'cyrillic'];

/** Letters without width, of which some faces have none. */
const unseen = /[\u200b\ufeff]/g;

type FontWithGlyphs = { readonly font: { hasGlyphForCodePoint(codePoint: number): boolean } };

/** The bundled faces within a PDF: which has a letter, and how wide text is. */
export class Faces {
  private readonly doc: PDFKit.PDFDocument;
  private readonly registered = new Set<string>();
  private readonly fontOfLetter = { 400: new Map<string, string | null>(), 600: new Map<string, string | null>() };
  private readonly known = { 400: new Map<string, Piece[]>(), 600: new Map<string, Piece[]>() };

  constructor(doc: PDFKit.PDFDocument) {
    this.doc = doc;
  }

  /** Text cut wherever the face changes. */
  piecesOf(text: string, strong: boolean): readonly Piece[] {
    const weight = strong ? 600 : 400;
    const pieces = this.known[weight].get(text) ?? this.cutByFont(text, weight);
    this.known[weight].set(text, pieces);
    return pieces;
  }

  private cutByFont(text: string, weight: FontWeight): Piece[] {
    const runs: { font: string; text: string }[] = [];
    for (const letter of text.normalize('NFC').replace(unseen, '')) {
      const found = this.fontFor(letter, weight);
      const font = found ?? this.fontFor('?', weight)!;
      const shown = found === null ? '?' : letter;
      const last = runs.at(-1);
      if (last?.font === font) last.text += shown;
      else runs.push({ font, text: shown });
    }
    return runs.map((run) => ({ ...run, width: this.pieceWidth(run.font, run.text) }));
  }

  /** The first face that has a letter; null when none has. */
  private fontFor(letter: string, weight: FontWeight): string | null {
    const known = this.fontOfLetter[weight].get(letter);
    if (known !== undefined) return known;
    const found = subsets.map((subset) => `${subset}-${weight}`).find((name) => this.hasLetter(name, letter)) ?? null;
    this.fontOfLetter[weight].set(letter, found);
    return found;
  }

  private hasLetter(name: string, letter: string): boolean {
    this.use(name);
    const { font } = (this.doc as unknown as { _font: FontWithGlyphs })._font;
    return font.hasGlyphForCodePoint(letter.codePointAt(0)!);
  }

  /** Takes a face up for what is drawn next. */
  use(name: string): void {
    if (!this.registered.has(name)) {
      const [, subset, weight] = /^(.*)-(\d+)$/.exec(name)!;
      this.doc.registerFont(name, loadFont(subset as FontSubset, Number(weight) as FontWeight, 'sfnt'));
      this.registered.add(name);
    }
    this.doc.font(name);
  }

  /**
   * Measured with the space behind it, as it is drawn, so that the writer lays each word out but once and words drawn
   * in one go lie where they were measured to lie.
   */
  private pieceWidth(font: string, text: string): number {
    this.use(font);
    const { doc } = this;
    const space = doc.fontSize(1000).widthOfString(' ');
    return text === ' ' ? space : doc.widthOfString(`${text} `) - space;
  }
}
