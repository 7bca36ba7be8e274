import type { Typesetter } from '../report/pdf/typeset.ts';
import type { ArtPlace } from './artPlace.ts';
import type { Span } from './placeFrame.ts';

interface Sides {
  readonly left: number;
  readonly top: number;
  readonly right: number;
  readonly bottom: number;
}

/** Where a mm of the frame is on the page, in points. */
export interface PlaceOnPage {
  x(mm: number): number;
  y(mm: number): number;
  readonly garment: Sides;
  /** All that is drawn: art that reaches beyond the garment too. */
  readonly whole: Sides;
}

const ink = '#14161a';
const paper = '#ffffff';
const firstRow = 12;
const rowStep = 15;
const tickSide = 3;
const labelSize = 7.5;

/** The seams and the centre line that are known, each with its name beside the garment. */
export function drawSeams(
  type: Typesetter,
  art: ArtPlace,
  { x, y, garment, whole }: PlaceOnPage,
  nameOf: (key: 'collar' | 'hem' | 'seam' | 'centre') => string,
): void {
  const name = (key: 'collar' | 'hem' | 'seam' | 'centre', atX: number, baseline: number, anchor: Anchor) =>
    type.drawLabel(nameOf(key), atX, baseline, labelSize, false, 'text', anchor);
  const above = whole.top - 5;
  for (const mm of [art.collarMm, art.hemMm]) {
    if (mm === null) continue;
    line(type, garment.left, y(mm), garment.right, y(mm), 1.6);
    name(mm === art.collarMm ? 'collar' : 'hem', whole.left - 5, y(mm) + 2.5, 'end');
  }
  for (const mm of [art.leftSeamMm, art.rightSeamMm]) {
    if (mm === null) continue;
    line(type, x(mm), garment.top, x(mm), garment.bottom, 1.6);
    name('seam', x(mm), above, mm === art.leftSeamMm ? 'start' : 'end');
  }
  if (art.centreMm === null) return;
  const at = x(art.centreMm);
  twoTone(type, at, whole.top - 3, at, whole.bottom, [6, 2, 1.5, 2]);
  name('centre', at, above, 'middle');
}

type Anchor = 'start' | 'middle' | 'end';

/** Lengths beside the drawing as a draughtsman writes them: lines out from both ends, one between them, and the figure. */
export function drawSpans(
  type: Typesetter,
  spans: readonly Span[],
  at: PlaceOnPage,
  figureOf: (span: Span) => string,
): void {
  for (const span of spans) drawSpanLines(type, span, at);
  // Figures stand over every line, on paper of their own.
  for (const span of spans) {
    const off = offsetOf(span);
    const middle = (span.from + span.to) / 2;
    const figure = figureOf(span);
    const room = at.x(span.to) - at.x(span.from) - 2 * tickSide;
    if (span.axis === 'down') drawFigure(type, figure, at.whole.right + off + 6, at.y(middle) + 2.5, 'start');
    else if (type.widthOfLabel(figure, labelSize, true) > room)
      drawFigure(type, figure, at.x(span.to) + 6, at.whole.bottom + off + 2.5, 'start');
    else drawFigure(type, figure, at.x(middle), at.whole.bottom + off + 2.5, 'middle');
  }
}

function drawSpanLines(type: Typesetter, span: Span, { x, y, whole }: PlaceOnPage): void {
  const off = offsetOf(span);
  if (span.axis === 'down') {
    const at = whole.right + off;
    for (const end of [y(span.from), y(span.to)]) {
      twoTone(type, whole.right - 6, end, at + tickSide, end, null);
      line(type, at - tickSide, end + tickSide, at + tickSide, end - tickSide);
    }
    line(type, at, y(span.from), at, y(span.to));
    return;
  }
  const at = whole.bottom + off;
  for (const end of [x(span.from), x(span.to)]) {
    twoTone(type, end, whole.bottom - 6, end, at + tickSide, null);
    line(type, end - tickSide, at + tickSide, end + tickSide, at - tickSide);
  }
  line(type, x(span.from), at, x(span.to), at);
}

function offsetOf({ row }: Span): number {
  return firstRow + row * rowStep;
}

function drawFigure(type: Typesetter, figure: string, x: number, baseline: number, anchor: 'start' | 'middle'): void {
  const width = type.widthOfLabel(figure, labelSize, true) + 4;
  const left = anchor === 'start' ? x - 2 : x - width / 2;
  type.doc.rect(left, baseline - labelSize + 1, width, labelSize + 1.5).fill(paper);
  type.drawLabel(figure, x, baseline, labelSize, true, 'text', anchor);
}

function line(type: Typesetter, x1: number, y1: number, x2: number, y2: number, width = 0.6): void {
  type.doc.lineWidth(width).moveTo(x1, y1).lineTo(x2, y2).stroke(ink);
}

/** A dark line on a light one, seen on any colour. */
function twoTone(
  type: Typesetter,
  x1: number,
  y1: number,
  x2: number,
  y2: number,
  dash: readonly number[] | null,
): void {
  const { doc } = type;
  doc.save();
  doc.lineWidth(1.8).moveTo(x1, y1).lineTo(x2, y2).stroke(paper);
  if (dash !== null) doc.dash([...dash] as unknown as number, {});
  line(type, x1, y1, x2, y2);
  doc.undash();
  doc.restore();
}
