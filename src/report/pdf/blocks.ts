import { toneHex } from '../shapes.ts';
import { type Block, contentWidth } from './flow.ts';
import type { StructureTag } from './structure.ts';
import type { Span, TextStyle, Typesetter } from './typeset.ts';

/** A paragraph, or whatever else of text `tag` says, as one block. */
export function paragraph(
  type: Typesetter,
  spans: readonly Span[],
  style: TextStyle,
  width = contentWidth,
  tag: StructureTag = 'P',
): Block {
  const lines = type.breakLines(spans, style, width);
  return {
    height: lines.length * style.leading,
    draw: (x, y) => {
      if (lines.length > 0) type.structure.within(tag, () => type.drawLines(lines, style, x, y, width));
    },
  };
}

/** The block as a part of the structure that holds the parts within. */
export function tagged(type: Typesetter, tag: StructureTag, block: Block): Block {
  return { ...block, draw: (x, y) => type.structure.within(tag, () => block.draw(x, y)) };
}

/** Begins a part of the structure that the blocks up to its `closes` belong to. */
export function opens(type: Typesetter, tag: StructureTag): Block {
  return { height: 0, keepWithNext: true, draw: () => type.structure.begin(tag) };
}

/** Ends what `opens` began. */
export function closes(type: Typesetter): Block {
  return { height: 0, draw: () => type.structure.end() };
}

/** Something to look at; `alt` says what it shows to those who do not. */
export function figure(
  type: Typesetter,
  size: { readonly width: number; readonly height: number },
  alt: string,
  draw: Block['draw'],
): Block {
  const { width, height } = size;
  return {
    height,
    draw: (x, y) => {
      const { structure } = type;
      const facts = { alt, bbox: [x, y, x + width, y + height] as const };
      structure.within('Figure', () => structure.content(() => draw(x, y)), facts);
    },
  };
}

/** A term with its value beside it, as an item of a list. */
export function listedFact(
  type: Typesetter,
  term: readonly Span[],
  value: readonly Span[],
  style: TextStyle,
  widths: { readonly term: number; readonly all: number },
): Block {
  const left = widths.term + 4;
  const items = [
    { block: paragraph(type, term, style, widths.term, 'Lbl'), left: 0 },
    { block: paragraph(type, value, style, widths.all - left, 'LBody'), left },
  ];
  return tagged(type, 'LI', sideBySide(items));
}

/** Blocks one below the other as one. */
export function stack(blocks: readonly Block[]): Block {
  return {
    height: blocks.reduce((sum, block) => sum + block.height, 0),
    draw: (x, y) => {
      let at = y;
      for (const block of blocks) {
        block.draw(x, at);
        at += block.height;
      }
    },
  };
}

/** Blocks side by side, each at its distance from the left edge. */
export function sideBySide(items: readonly { readonly block: Block; readonly left: number }[]): Block {
  return {
    height: Math.max(0, ...items.map(({ block }) => block.height)),
    draw: (x, y) => {
      for (const { block, left } of items) block.draw(x + left, y);
    },
  };
}

/** A horizontal line with space above and below it. */
export function rule(type: Typesetter, above: number, below: number, isHeavy = false): Block {
  return {
    height: above + below,
    keepWithNext: true,
    draw: (x, y) => {
      drawLine(type, x, y + above, isHeavy ? 1.1 : 0.6, isHeavy ? toneHex.text : toneHex.faint);
    },
  };
}

/** A horizontal line over the width of the text; it says nothing. */
export function drawLine({ doc, structure }: Typesetter, x: number, y: number, weight: number, colour: string): void {
  structure.decoration(() => {
    doc
      .lineWidth(weight)
      .moveTo(x, y)
      .lineTo(x + contentWidth, y);
    doc.stroke(colour);
  });
}
