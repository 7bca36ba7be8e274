import { type FontSubset, type FontWeight, loadFont } from '../assets/loadFonts.ts';
import { unitsKept } from '../format.ts';
import { type Tone, toneHex } from '../shapes.ts';
import { shownText } from '../words.ts';

/** A stretch of text in one weight and tone; `swatchHex` puts a small square of a colour before it. */
export interface Span {
  readonly text: string;
  readonly strong?: boolean;
  readonly tone?: Tone;
  readonly swatchHex?: string;
  /** Name of the place in the file it leads to. */
  readonly goTo?: string;
}

export interface TextStyle {
  readonly size: number;
  /** Distance from line to line, points. */
  readonly leading: number;
  readonly align?: 'left' | 'right';
}

/** Letters of one face; `width` in thousandths of the size of type. */
interface Piece {
  readonly font: string;
  readonly text: string;
  readonly width: number;
}

interface Word {
  readonly span: Span;
  readonly pieces: readonly Piece[];
  readonly width: number;
  readonly hasSpaceBefore: boolean;
}

export type Line = { readonly words: readonly Word[]; readonly width: number };

const subsets: readonly FontSubset[] = ['latin', 'latin-ext', 'greek', 'cyrillic'];
const longestText = 1200;
const swatchShare = 0.72;

/** Letters without width, of which some faces have none. */
const unseen = /[\u200b\ufeff]/g;

type FontWithGlyphs = { readonly font: { hasGlyphForCodePoint(codePoint: number): boolean } };

/**
 * Sets type into a PDF with the bundled faces: breaks lines, finds for each letter the face that has it, and marks
 * letters none has with a question mark. Lengths are points.
 */
export class Typesetter {
  readonly doc: PDFKit.PDFDocument;
  private readonly registered = new Set<string>();
  private readonly fontOfLetter = { 400: new Map<string, string | null>(), 600: new Map<string, string | null>() };
  private readonly known = { 400: new Map<string, Piece[]>(), 600: new Map<string, Piece[]>() };

  constructor(doc: PDFKit.PDFDocument) {
    this.doc = doc;
  }

  /** Lines no wider than `width`; a word that is wider by itself is cut. Text past 1,200 characters is left off. */
  breakLines(spans: readonly Span[], style: TextStyle, width: number): Line[] {
    const lines: Line[] = [];
    let words: Word[] = [];
    let used = 0;
    const push = () => {
      lines.push({ words, width: used });
      words = [];
      used = 0;
    };
    for (const word of this.wordsOf(spans, style.size, width)) {
      const gap = word.hasSpaceBefore && words.length > 0 ? this.spaceWidth(word.span, style.size) : 0;
      if (words.length > 0 && used + gap + word.width > width && word.hasSpaceBefore) push();
      else if (words.length > 0 && used + gap + word.width > width + 0.01) push();
      used += (words.length > 0 ? gap : 0) + word.width;
      words.push(word);
    }
    if (words.length > 0) push();
    return lines;
  }

  /** Draws lines with the top of the first at `y`. */
  drawLines(lines: readonly Line[], style: TextStyle, x: number, y: number, width: number): void {
    lines.forEach((line, index) => {
      const baseline = y + index * style.leading + (style.leading - style.size) / 2 + style.size * 0.78;
      let at = style.align === 'right' ? x + width - line.width : x;
      line.words.forEach((word, position) => {
        if (position > 0 && word.hasSpaceBefore) at += this.spaceWidth(word.span, style.size);
        this.drawWord(word, style.size, at, baseline);
        at += word.width;
      });
    });
  }

  /** One line of plain text at a baseline; `anchor` says which part of it lies at `x`. */
  drawLabel(
    text: string,
    x: number,
    baseline: number,
    size: number,
    strong: boolean,
    tone: Tone,
    anchor: 'start' | 'middle' | 'end',
  ): void {
    const pieces = this.piecesOf(shownText(text), strong);
    const width = widthOf(pieces, size);
    const start = anchor === 'start' ? x : anchor === 'middle' ? x - width / 2 : x - width;
    this.drawPieces(pieces, size, start, baseline, tone);
  }

  private *wordsOf(spans: readonly Span[], size: number, width: number): Iterable<Word> {
    let hasSpaceBefore = false;
    for (const span of spans) {
      const text = unitsKept(shownText(span.text).slice(0, longestText));
      let isFirst = true;
      for (const part of text.split(/( +)/)) {
        if (part === '') continue;
        if (/^ +$/.test(part)) {
          hasSpaceBefore = true;
          continue;
        }
        for (const fitting of this.cutToFit(part, span.strong ?? false, size, width * 0.9)) {
          const pieces = this.piecesOf(fitting, span.strong ?? false);
          const swatchHex = isFirst ? span.swatchHex : undefined;
          const swatchWidth = swatchHex ? size * (swatchShare + 0.35) : 0;
          yield { span: { ...span, swatchHex }, pieces, width: widthOf(pieces, size) + swatchWidth, hasSpaceBefore };
          hasSpaceBefore = false;
          isFirst = false;
        }
      }
    }
  }

  private *cutToFit(word: string, strong: boolean, size: number, width: number): Iterable<string> {
    const fits = (text: string) => widthOf(this.piecesOf(text, strong), size) <= width;
    if (word.length < 12 || fits(word)) {
      yield word;
      return;
    }
    let rest = [...word];
    while (rest.length > 0) {
      let count = rest.length;
      while (count > 1 && !fits(rest.slice(0, count).join(''))) count = Math.ceil(count * 0.8) - (count < 6 ? 1 : 0);
      yield rest.slice(0, Math.max(1, count)).join('');
      rest = rest.slice(Math.max(1, count));
    }
  }

  private drawWord(word: Word, size: number, x: number, baseline: number): void {
    const { span } = word;
    let at = x;
    if (span.swatchHex) {
      const side = size * swatchShare;
      this.doc
        .lineWidth(0.5)
        .rect(at, baseline - side * 0.92, side, side)
        .fillAndStroke(span.swatchHex, toneHex.quiet);
      at += size * (swatchShare + 0.35);
    }
    this.drawPieces(word.pieces, size, at, baseline, span.tone ?? 'text');
    if (span.goTo) this.doc.goTo(x, baseline - size, word.width, size * 1.2, span.goTo);
  }

  private drawPieces(pieces: readonly Piece[], size: number, x: number, baseline: number, tone: Tone): void {
    let at = x;
    this.doc.fillColor(hexOf(tone));
    for (const { font, text, width } of pieces) {
      this.use(font);
      this.doc.fontSize(size).text(text, at, baseline, { lineBreak: false, baseline: 'alphabetic' });
      at += (width * size) / 1000;
    }
  }

  private piecesOf(text: string, strong: boolean): readonly Piece[] {
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

  private use(name: string): void {
    if (!this.registered.has(name)) {
      const [, subset, weight] = /^(.*)-(\d+)$/.exec(name)!;
      this.doc.registerFont(name, loadFont(subset as FontSubset, Number(weight) as FontWeight, 'sfnt'));
      this.registered.add(name);
    }
    this.doc.font(name);
  }

  private spaceWidth(span: Span, size: number): number {
    return widthOf(this.piecesOf(' ', span.strong ?? false), size);
  }

  private pieceWidth(font: string, text: string): number {
    this.use(font);
    return this.doc.fontSize(1000).widthOfString(text);
  }
}

function widthOf(pieces: readonly Piece[], size: number): number {
  return pieces.reduce((sum, { width }) => sum + (width * size) / 1000, 0);
}

/** The colour of a tone on paper. */
export function hexOf(tone: Tone): string {
  if (tone === 'table') return '#ffffff';
  return tone.startsWith('#') ? tone : toneHex[tone as keyof typeof toneHex];
}
