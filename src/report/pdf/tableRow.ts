import { toneHex } from '../shapes.ts';
import { drawLine, sideBySide, tagged } from './blocks.ts';
import type { Block } from './flow.ts';
import type { Span, TextStyle, Typesetter } from './typeset.ts';

export interface Column {
  readonly width: number;
  readonly align?: 'left' | 'right';
  /** Its cells say what their rows are about. */
  readonly isHead?: boolean;
}

/** A row of a table: cells of spans, drawings where given, a thin line below. Of a `head` all cells are headings. */
export function tableRow(
  type: Typesetter,
  columns: readonly Column[],
  cells: readonly (readonly Span[] | Block)[],
  style: TextStyle,
  kind: 'head' | 'row' = 'row',
): Block {
  const padding = 3.5;
  let left = 0;
  const placed = cells.map((cell, index) => {
    const { width } = columns[index];
    const block = cellBlock(type, columns[index], cell, style, kind);
    const item = { block, left };
    left += width;
    return item;
  });
  const inner = tagged(type, 'TR', sideBySide(placed));
  const height = inner.height + 2 * padding;
  return {
    height,
    draw: (x, y) => {
      inner.draw(x, y + padding);
      drawLine(type, x, y + height, 0.5, toneHex.faint);
    },
  };
}

function cellBlock(
  type: Typesetter,
  { width, align, isHead }: Column,
  cell: readonly Span[] | Block,
  style: TextStyle,
  kind: 'head' | 'row',
): Block {
  const tag = kind === 'head' || isHead ? 'TH' : 'TD';
  const scope = tag === 'TD' ? undefined : kind === 'head' ? 'Column' : 'Row';
  const inTag = (draw: () => void) => type.structure.within(tag, draw, { scope });
  if (isBlock(cell)) return { height: cell.height, draw: (x, y) => inTag(() => cell.draw(x, y)) };
  const aligned = { ...style, align };
  const lines = type.breakLines(cell, style, width - 8);
  return {
    height: lines.length * style.leading,
    draw: (x, y) => inTag(() => type.drawLines(lines, aligned, x, y, width - 8)),
  };
}

function isBlock(cell: readonly Span[] | Block): cell is Block {
  return !Array.isArray(cell);
}
