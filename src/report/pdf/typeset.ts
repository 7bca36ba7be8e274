import { unitsKept } from '../format.ts';
import { type Tone, toneHex } from '../shapes.ts';
import { shownText } from '../words.ts';
import { Faces, type Piece } from './faces.ts';
import { Structure } from './structure.ts';

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

interface Word {
  readonly span: Span;
  readonly pieces: readonly Piece[];
  readonly width: number;
  readonly hasSpaceBefore: boolean;
}

/** A word with the left end of its baseline. */
interface PlacedWord {
  readonly word: Word;
  readonly x: number;
  readonly baseline: number;
  readonly hasSpaceAfter: boolean;
}

export type Line = { readonly words: readonly Word[]; readonly width: number };

const longestText = 1200;
const swatchShare = 0.72;

/**
 * Sets type into a PDF with the bundled faces: breaks lines, finds for each letter the face that has it, and marks
 * letters none has with a question mark. Lengths are points.
 */
export class Typesetter {
  readonly doc: PDFKit.PDFDocument;
  /** What is drawn, for those who have the file read out. */
  readonly structure: Structure;
  private readonly faces: Faces;

  constructor(doc: PDFKit.PDFDocument) {
    this.doc = doc;
    this.structure = new Structure(doc);
    this.faces = new Faces(doc);
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

  /** Draws lines with the top of the first at `y`, as content of the part of the structure last begun. */
  drawLines(lines: readonly Line[], style: TextStyle, x: number, y: number, width: number): void {
    const placed = lines.flatMap((line, index) => {
      const baseline = y + index * style.leading + (style.leading - style.size) / 2 + style.size * 0.78;
      return this.placedWords(line, style.size, style.align === 'right' ? x + width - line.width : x, baseline);
    });
    for (const stretch of stretchesOf(placed)) this.drawStretch(stretch, style.size);
  }

  private placedWords({ words }: Line, size: number, x: number, baseline: number): PlacedWord[] {
    let at = x;
    return words.map((word, position) => {
      if (position > 0 && word.hasSpaceBefore) at += this.spaceWidth(word.span, size);
      const placed = { word, x: at, baseline, hasSpaceAfter: words[position + 1]?.hasSpaceBefore ?? true };
      at += word.width;
      return placed;
    });
  }

  private drawStretch(stretch: readonly PlacedWord[], size: number): void {
    const draw = () => {
      for (const run of runsOf(stretch)) this.drawRun(run, size);
    };
    const [first] = stretch;
    const { goTo, text } = first.word.span;
    if (goTo === undefined) {
      this.structure.content(draw);
      return;
    }
    const last = stretch[stretch.length - 1];
    const width = last.x + last.word.width - first.x;
    this.structure.link(draw, goTo, text, [first.x, first.baseline - size, width, size * 1.2]);
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
    const pieces = this.faces.piecesOf(shownText(text), strong);
    const width = widthOf(pieces, size);
    const start = anchor === 'start' ? x : anchor === 'middle' ? x - width / 2 : x - width;
    this.drawPieces(withSpace(pieces), size, start, baseline, tone);
  }

  /** Of a label as `drawLabel` sets it, in points. */
  widthOfLabel(text: string, size: number, strong: boolean): number {
    return widthOf(this.faces.piecesOf(shownText(text), strong), size);
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
          const pieces = this.faces.piecesOf(fitting, span.strong ?? false);
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
    const fits = (text: string) => widthOf(this.faces.piecesOf(text, strong), size) <= width;
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

  /** Words with the spaces between and behind them: who has the file read out hears words, not places. */
  private drawRun(run: readonly PlacedWord[], size: number): void {
    const [{ word, x, baseline }] = run;
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
    const pieces = run.length === 1 ? word.pieces : [joined(run)];
    const isParted = run[run.length - 1].hasSpaceAfter;
    this.drawPieces(isParted ? withSpace(pieces) : pieces, size, at, baseline, span.tone ?? 'text');
  }

  private spaceWidth({ strong = false }: Span, size: number): number {
    return widthOf(this.faces.piecesOf(' ', strong), size);
  }

  private drawPieces(pieces: readonly Piece[], size: number, x: number, baseline: number, tone: Tone): void {
    let at = x;
    this.doc.fillColor(hexOf(tone));
    for (const { font, text, width } of pieces) {
      this.faces.use(font);
      this.doc.fontSize(size).text(text, at, baseline, { lineBreak: false, baseline: 'alphabetic' });
      at += (width * size) / 1000;
    }
  }
}

/** Words in a row that lead to the same place, on one line; words in a row that lead nowhere, over all lines. */
function stretchesOf(words: readonly PlacedWord[]): PlacedWord[][] {
  const stretches: PlacedWord[][] = [];
  for (const placed of words) {
    const last = stretches.at(-1)?.at(-1);
    const { goTo } = placed.word.span;
    const isSame = last?.word.span.goTo === goTo && (goTo === undefined || last?.baseline === placed.baseline);
    if (last && isSame) stretches[stretches.length - 1].push(placed);
    else stretches.push([placed]);
  }
  return stretches;
}

/** Words that can be drawn in one go: side by side, alike, and of one face, that of the spaces between them. */
function runsOf(words: readonly PlacedWord[]): PlacedWord[][] {
  const runs: PlacedWord[][] = [];
  for (const placed of words) {
    const last = runs.at(-1)?.at(-1);
    if (last && last.baseline === placed.baseline && isAlike(last.word, placed.word))
      runs[runs.length - 1].push(placed);
    else runs.push([placed]);
  }
  return runs;
}

function isAlike(first: Word, next: Word): boolean {
  if (!next.hasSpaceBefore || next.span.swatchHex || first.pieces.length !== 1 || next.pieces.length !== 1)
    return false;
  const [{ font }] = first.pieces;
  return font === spaceFont(first.span) && font === next.pieces[0].font && first.span.tone === next.span.tone;
}

/** The face of the spaces beside a word. */
function spaceFont({ strong = false }: Span): string {
  return strong ? 'latin-600' : 'latin-400';
}

function joined(run: readonly PlacedWord[]): Piece {
  const pieces = run.map(({ word }) => word.pieces[0]);
  return { ...pieces[0], text: pieces.map(({ text }) => text).join(' ') };
}

/** The pieces with a space behind them, as they were measured. */
function withSpace(pieces: readonly Piece[]): Piece[] {
  return pieces.map((piece, index) => (index < pieces.length - 1 ? piece : { ...piece, text: `${piece.text} ` }));
}

function widthOf(pieces: readonly Piece[], size: number): number {
  return pieces.reduce((sum, { width }) => sum + (width * size) / 1000, 0);
}

/** The colour of a tone on paper. */
export function hexOf(tone: Tone): string {
  if (tone === 'table') return '#ffffff';
  return tone.startsWith('#') ? tone : toneHex[tone as keyof typeof toneHex];
}
