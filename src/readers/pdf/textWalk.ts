import type { PDFDict } from '@cantoo/pdf-lib';
import { type BoxMm, unionOfBoxes } from '../../geometry/box.ts';
import { identity, type Matrix, multiplied, stretch, transformed } from '../../geometry/matrix.ts';
import { withClipText } from './clips.ts';
import type { Operand } from './contentTokens.ts';
import { ContentWalk, nameOf } from './contentWalk.ts';
import type { FontFacts } from './fonts.ts';
import { limits } from './pageContext.ts';
import type { Paint } from './paint.ts';
import { overprintFacts, paintOfColour, penOf, strokeWidthMm } from './paintShapes.ts';
import { paintPattern } from './patterns.ts';
import { asDict, asName, asNumber, asStream } from './pdfValues.ts';
import { recordObject } from './recordObject.ts';
import type { Clip, Composite, TextLine, TextShow } from './scene.ts';
import { decodedBytes } from './streamBytes.ts';

/** Longest run of strings that are placed by those before them. */
const maxRun = 64;

interface OpenLine {
  readonly matrix: Matrix;
  readonly shows: TextShow[];
  readonly composite: Composite;
  readonly clip: Clip | null;
  boxMm: BoxMm;
}

/** The text part of a content stream: positions, fonts and strings (ISO 32000-1, 9.4). */
export class TextWalk {
  private readonly walk: ContentWalk;
  private textMatrix: Matrix = identity;
  private lineMatrix: Matrix = identity;
  private line: OpenLine | null = null;
  /**
   * The strings since the last positioning, unseen: put before a string they bring it to its place by the renderer's
   * own widths, which for fonts that are not in the file are the only ones.
   */
  private run: { readonly matrix: Matrix; readonly shows: TextShow[] } | null = null;
  private clipLines: { line: TextLine; boxMm: BoxMm }[] = [];

  constructor(walk: ContentWalk) {
    this.walk = walk;
  }

  /** Carries out a text operator; false when it is none. */
  operate(operator: string, args: readonly Operand[]): boolean {
    const { state } = this.walk;
    const n = (k: number) => (typeof args[k] === 'number' ? (args[k] as number) : 0);
    switch (operator) {
      case 'BT':
        this.breakLine();
        this.textMatrix = this.lineMatrix = identity;
        return true;
      case 'ET':
        this.end();
        return true;
      case 'Td':
        this.moveLine(n(0), n(1));
        return true;
      case 'TD':
        state.leading = -n(1);
        this.moveLine(n(0), n(1));
        return true;
      case 'Tm':
        this.breakLine();
        this.textMatrix = this.lineMatrix = [n(0), n(1), n(2), n(3), n(4), n(5)];
        return true;
      case 'T*':
        this.moveLine(0, -state.leading);
        return true;
      case 'Tc':
        state.charSpacing = n(0);
        return true;
      case 'Tw':
        state.wordSpacing = n(0);
        return true;
      case 'Tz':
        state.scalePercent = n(0);
        return true;
      case 'TL':
        state.leading = n(0);
        return true;
      case 'Ts':
        state.rise = n(0);
        return true;
      case 'Tr':
        state.textMode = n(0) & 7;
        return true;
      case 'Tf':
        state.font = asDict(this.walk.context.resource(this.walk.resources, 'Font', nameOf(args[0])));
        state.fontSize = n(1);
        if (!state.font) this.walk.unknown(`a missing font "${nameOf(args[0])}"`);
        return true;
      case 'Tj':
        this.show(args[0] instanceof Uint8Array ? [args[0]] : []);
        return true;
      case 'TJ':
        this.show(Array.isArray(args[0]) ? args[0].filter(isPart) : []);
        return true;
      case "'":
        this.moveLine(0, -state.leading);
        this.show(args[0] instanceof Uint8Array ? [args[0]] : []);
        return true;
      case '"':
        state.wordSpacing = n(0);
        state.charSpacing = n(1);
        this.moveLine(0, -state.leading);
        this.show(args[2] instanceof Uint8Array ? [args[2]] : []);
        return true;
      default:
        return false;
    }
  }

  /** Ends the text object; strings drawn as a clip take effect now. */
  end(): void {
    this.breakLine();
    if (this.clipLines.length > 0) {
      this.walk.state.clip = withClipText(this.walk.state.clip, this.clipLines);
      this.clipLines = [];
    }
  }

  /** Closes the run of strings, so that the next one is placed afresh. */
  breakLine(): void {
    this.flush();
    this.run = null;
  }

  private flush(): void {
    const { line } = this;
    this.line = null;
    if (!line) return;
    const { composite, clip, boxMm, matrix, shows } = line;
    this.walk.out.push({ type: 'text', line: { matrix, shows }, composite, clip, boxMm });
  }

  private moveLine(x: number, y: number): void {
    this.breakLine();
    this.textMatrix = this.lineMatrix = multiplied(this.lineMatrix, [1, 0, 0, 1, x, y]);
  }

  private show(parts: readonly (Uint8Array | number)[]): void {
    const { walk } = this;
    const { state, context } = walk;
    const { font } = state;
    if (!font || parts.length === 0) return;
    const facts = context.fonts.factsOf(font);
    const before = multiplied(state.matrix, this.textMatrix);
    if (facts.isType3) {
      this.showType3(font, facts, parts);
      return;
    }
    const advance = this.advanceOf(facts, parts);
    const boxMm = textBox(before, advance, state.fontSize, state.rise, facts.isVertical);
    this.textMatrix = multiplied(
      this.textMatrix,
      facts.isVertical ? [1, 0, 0, 1, 0, advance] : [1, 0, 0, 1, advance, 0],
    );
    const base = (state.textMode & 3) as 0 | 1 | 2 | 3;
    const fills = base === 0 || base === 2;
    const strokes = base === 1 || base === 2;
    const fillPattern = fills && state.fill.space.kind === 'pattern';
    const strokePattern = strokes && state.stroke.space.kind === 'pattern';
    const fillPaint = fills && !fillPattern ? paintOfColour(walk, state.fill, false) : null;
    const strokePaint = strokes && !strokePattern ? paintOfColour(walk, state.stroke, true) : null;
    const shown = makeShow(walk, font, parts, fillPaint, strokePaint);
    if (!this.run || this.run.shows.length > maxRun) {
      this.flush();
      this.run = { matrix: before, shows: [] };
    }
    const { matrix, shows } = this.run;
    const countBefore = shows.length;
    shows.push({ ...shown, mode: 3, fillPaint: null, strokePaint: null });
    const alone = (): TextLine => ({ matrix, shows: [...shows.slice(0, countBefore), { ...shown, mode: 0 }] });
    const clipping = state.textMode >= 4;
    if (clipping) this.clipLines.push({ line: alone(), boxMm });
    if (clipping && base === 3) {
      this.flush();
      return;
    }
    if (fillPattern) {
      this.flush();
      paintPattern(walk, state.fill, false, 'text', boxMm, withClipText(state.clip, [{ line: alone(), boxMm }]));
    }
    if (strokePattern) walk.unknown('a pattern on the outline of letters');
    if (fillPattern && !strokePaint) return;
    const composite = walk.composite(base === 1 ? state.strokeAlpha : state.fillAlpha);
    const paints = [fillPaint, strokePaint].filter((paint) => paint !== null);
    const drawn = this.record(facts, boxMm, composite, paints, before, parts, base === 3);
    if (!drawn || base === 3) {
      this.flush();
      return;
    }
    if (this.line && (this.line.composite !== composite || this.line.clip !== state.clip)) this.flush();
    this.line ??= { matrix, shows: shows.slice(0, countBefore), composite, clip: state.clip, boxMm };
    this.line.shows.push(shown);
    this.line.boxMm = unionOfBoxes(this.line.boxMm, boxMm);
  }

  private record(
    facts: FontFacts,
    boxMm: BoxMm,
    composite: Composite,
    paints: readonly Paint[],
    matrix: Matrix,
    parts: readonly (Uint8Array | number)[],
    invisible: boolean,
  ): boolean {
    const { walk } = this;
    const { state, context } = walk;
    const { id, drawn } = recordObject(context, {
      kind: 'text',
      boxMm,
      clip: state.clip,
      composite,
      layerPath: walk.layerPath,
      layerOff: walk.layerOff,
      overprint: overprintFacts(walk),
      paints,
      invisible,
      strokeWidthMm: state.textMode === 1 || state.textMode === 2 ? strokeWidthMm(penOf(walk)) : null,
      text: {
        fontName: facts.name,
        sizePt: (Math.abs(state.fontSize) * stretch(matrix).max * 72) / 25.4,
        embedded: facts.embedded,
        resolved: facts.embedded,
        excerpt: excerptOf(facts, parts),
      },
    });
    if (drawn && !facts.embedded && context.mutedDepth === 0) {
      const inkKeys = [
        ...new Set(paints.flatMap((paint) => [...paint.named].filter(([, t]) => t).map(([key]) => key))),
      ];
      context.notes.add(
        'font-not-embedded',
        'plate',
        `The font "${facts.name}" is not in the file; another was drawn in its place.`,
        { inkKeys: inkKeys.length > 0 ? inkKeys : undefined, objectId: id, boxMm },
      );
    }
    return drawn;
  }

  /** Sum of widths and spacings in text space, along the writing direction. */
  private advanceOf(facts: FontFacts, parts: readonly (Uint8Array | number)[]): number {
    const { fontSize, charSpacing, wordSpacing, scalePercent } = this.walk.state;
    const scale = facts.isVertical ? 1 : scalePercent / 100;
    let advance = 0;
    for (const part of parts) {
      if (typeof part === 'number') {
        advance -= (part / 1000) * fontSize * scale;
        continue;
      }
      for (const code of facts.codesOf(part)) {
        const word = facts.singleByte && code === 32 ? wordSpacing : 0;
        const width = facts.isVertical ? -1 : facts.widthOf(code) / 1000;
        advance += (width * fontSize + charSpacing + word) * scale;
      }
    }
    return advance;
  }

  private showType3(font: PDFDict, facts: FontFacts, parts: readonly (Uint8Array | number)[]): void {
    const { walk } = this;
    const { state, context } = walk;
    const { values } = context;
    this.breakLine();
    const procs = values.dict(font, 'CharProcs');
    const names = differencesOf(walk, font);
    const fontMatrix = values.matrixOf(font, 'FontMatrix');
    const start = multiplied(state.matrix, this.textMatrix);
    const startAdvance = this.advanceOf(facts, parts);
    const boxMm = textBox(start, startAdvance, state.fontSize, state.rise, false);
    const paint = state.fill.space.kind === 'pattern' ? null : paintOfColour(walk, state.fill, false);
    this.record(
      facts,
      boxMm,
      walk.composite(state.fillAlpha),
      paint ? [paint] : [],
      start,
      parts,
      state.textMode === 3,
    );
    for (const part of parts) {
      const codes: readonly number[] = typeof part === 'number' ? [] : facts.codesOf(part);
      for (const code of codes) {
        const glyph = asStream(values.get(procs, names.get(code) ?? ''));
        if (glyph && state.textMode !== 3) this.drawGlyph(font, glyph, fontMatrix);
        this.advanceBy(this.advanceOf(facts, [Uint8Array.of(code)]));
      }
      if (typeof part === 'number') this.advanceBy(this.advanceOf(facts, [part]));
    }
  }

  private advanceBy(advance: number): void {
    this.textMatrix = multiplied(this.textMatrix, [1, 0, 0, 1, advance, 0]);
  }

  private drawGlyph(font: PDFDict, glyph: NonNullable<ReturnType<typeof asStream>>, fontMatrix: Matrix): void {
    const { walk } = this;
    const { state, context } = walk;
    const bytes = decodedBytes(context.values, glyph);
    if (!bytes || walk.nesting >= limits.nesting || context.open.has(glyph)) {
      walk.unknown('a drawn letter that cannot be unpacked');
      return;
    }
    const size: Matrix = [(state.fontSize * state.scalePercent) / 100, 0, 0, state.fontSize, 0, state.rise];
    const matrix = multiplied(multiplied(multiplied(state.matrix, this.textMatrix), size), fontMatrix);
    const inner = new ContentWalk(
      context,
      // A glyph begins with the text's fill colour for both kinds of painting.
      { ...state, matrix, stroke: state.fill, strokeAlpha: state.fillAlpha, textMode: 0, dash: [], lineWidth: 1 },
      {
        resources: context.values.dict(font, 'Resources') ?? walk.resources,
        out: walk.out,
        nesting: walk.nesting + 1,
        layerPath: walk.layerPath,
        layerOff: walk.layerOff,
        uncoloured: false,
      },
    );
    context.mutedDepth++;
    context.open.add(glyph);
    inner.run(bytes);
    context.open.delete(glyph);
    context.mutedDepth--;
  }
}

function makeShow(
  walk: ContentWalk,
  font: PDFDict,
  parts: readonly (Uint8Array | number)[],
  fillPaint: Paint | null,
  strokePaint: Paint | null,
): TextShow {
  const { fontSize, charSpacing, wordSpacing, scalePercent, rise } = walk.state;
  const pen = strokePaint ? penOf(walk) : null;
  const mode = fillPaint && strokePaint ? 2 : fillPaint ? 0 : strokePaint ? 1 : 3;
  return { font, fontSize, charSpacing, wordSpacing, scalePercent, rise, mode, pen, parts, fillPaint, strokePaint };
}

function isPart(operand: Operand): operand is Uint8Array | number {
  return typeof operand === 'number' || operand instanceof Uint8Array;
}

function excerptOf(facts: FontFacts, parts: readonly (Uint8Array | number)[]): string {
  let text = '';
  for (const part of parts) {
    if (typeof part !== 'number') text += facts.textOf(part);
    else if (part < -200) text += ' ';
    if (text.length >= 40) break;
  }
  return text.replace(/\s+/g, ' ').slice(0, 40);
}

/** A box around a string: its advance by the usual reach of letters (common practice, no source: −0.25 to 0.95 em). */
function textBox(matrix: Matrix, advance: number, fontSize: number, rise: number, vertical: boolean): BoxMm {
  const across = vertical ? [-0.5 * fontSize, 0.5 * fontSize] : [0, advance];
  const up = vertical ? [0, advance] : [rise - 0.25 * fontSize, rise + 0.95 * fontSize];
  const corners = across.flatMap((x) => up.map((y) => transformed(matrix, x, y)));
  const xs = corners.map(([x]) => x);
  const ys = corners.map(([, y]) => y);
  const xMm = Math.min(...xs);
  const yMm = Math.min(...ys);
  return { xMm, yMm, widthMm: Math.max(...xs) - xMm, heightMm: Math.max(...ys) - yMm };
}

function differencesOf(walk: ContentWalk, font: PDFDict): Map<number, string> {
  const { values } = walk.context;
  const names = new Map<number, string>();
  let code = 0;
  for (const item of values.listOf(values.dict(font, 'Encoding'), 'Differences') ?? []) {
    const start = asNumber(item);
    if (start !== null) code = start;
    else names.set(code++, asName(item) ?? '');
  }
  return names;
}
