import type { FontSubset, FontWeight } from '../assets/loadFonts.ts';
import { unitsKept } from '../format.ts';
import { type Tone, toneHex } from '../shapes.ts';
import { shownText } from '../words.ts';
import type { Face, SetText } from './face.ts';
import type { Paper } from './paper.ts';

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

/** Letters of one face. */
interface Piece {
  readonly face: Face;
  readonly set: SetText;
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

/**
 * Sets type into a PDF with the bundled faces: breaks lines, finds for each letter the face that has it, and marks
 * letters none has with a question mark. Lengths are points.
 */
export class Typesetter {
  readonly paper: Paper;
  private readonly faceOfLetter = { 400: new Map<string, Face | null>(), 600: new Map<string, Face | null>() };
  private readonly known = { 400: new Map<string, Piece[]>(), 600: new Map<string, Piece[]>() };

  constructor(paper: Paper) {
    this.paper = paper;
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
    const { sheet } = this.paper;
    let at = x;
    if (span.swatchHex) {
      const side = size * swatchShare;
      sheet.box(at, baseline - side * 0.92, side, side, span.swatchHex, toneHex.quiet, 0.5);
      at += size * (swatchShare + 0.35);
    }
    this.drawPieces(word.pieces, size, at, baseline, span.tone ?? 'text');
    if (span.goTo) sheet.links.push({ x, y: baseline - size, width: word.width, height: size * 1.2, goTo: span.goTo });
  }

  private drawPieces(pieces: readonly Piece[], size: number, x: number, baseline: number, tone: Tone): void {
    let at = x;
    for (const { face, set } of pieces) {
      this.paper.sheet.glyphs(face.name, size, at, baseline, set.shown, hexOf(tone));
      at += (set.width * size) / 1000;
    }
  }

  private piecesOf(text: string, strong: boolean): readonly Piece[] {
    const weight = strong ? 600 : 400;
    const pieces = this.known[weight].get(text) ?? this.cutByFace(text, weight);
    this.known[weight].set(text, pieces);
    return pieces;
  }

  private cutByFace(text: string, weight: FontWeight): Piece[] {
    const runs: { face: Face; text: string }[] = [];
    for (const letter of text.normalize('NFC').replace(unseen, '')) {
      const found = this.faceFor(letter, weight);
      const face = found ?? this.faceFor('?', weight)!;
      const shown = found === null ? '?' : letter;
      const last = runs.at(-1);
      if (last?.face === face) last.text += shown;
      else runs.push({ face, text: shown });
    }
    return runs.map(({ face, text }) => ({ face, set: face.set(text) }));
  }

  /** The first face that has a letter; null when none has. */
  private faceFor(letter: string, weight: FontWeight): Face | null {
    const known = this.faceOfLetter[weight].get(letter);
    if (known !== undefined) return known;
    const subset = subsets.find((name) => this.paper.face(name, weight).has(letter.codePointAt(0)!));
    const face = subset === undefined ? null : this.paper.face(subset, weight);
    this.faceOfLetter[weight].set(letter, face);
    return face;
  }

  private spaceWidth(span: Span, size: number): number {
    return (this.paper.face('latin', span.strong ? 600 : 400).set(' ').width * size) / 1000;
  }
}

function widthOf(pieces: readonly Piece[], size: number): number {
  return pieces.reduce((sum, { set }) => sum + (set.width * size) / 1000, 0);
}

/** The colour of a tone on paper. */
export function hexOf(tone: Tone): string {
  if (tone === 'table') return '#ffffff';
  return tone.startsWith('#') ? tone : toneHex[tone as keyof typeof toneHex];
}
