import type { Typesetter } from './typeset.ts';

/** Something that is set in one piece and never cut over a page. Heights and places in points. */
export interface Block {
  readonly height: number;
  /** Stays on the page of what follows: headings, and the claim above its crops. */
  readonly keepWithNext?: boolean;
  /** Room that must be left on the page, when more than the height. */
  readonly wantedHeight?: number;
  draw(x: number, y: number): void;
}

export const pageWidth = 595.28;
export const pageHeight = 841.89;
export const marginX = 45;
export const contentWidth = pageWidth - 2 * marginX;
const top = 48;
const bottom = pageHeight - 54;

/** Sets blocks one below the other over as many pages as they need. */
export class Flow {
  readonly type: Typesetter;
  private y = top;

  constructor(type: Typesetter) {
    this.type = type;
  }

  /** Sets blocks in order. What is kept together moves to the next page together. */
  place(blocks: readonly Block[]): void {
    blocks.forEach((block, index) => {
      let height = block.height;
      for (let next = index; blocks[next].keepWithNext && next + 1 < blocks.length; next += 1) {
        height += blocks[next + 1].wantedHeight ?? blocks[next + 1].height;
      }
      if (this.y + Math.min(height, bottom - top) > bottom + 0.01) this.newPage();
      if (block.height > 0 && this.y === top && isGap(block)) return;
      block.draw(marginX, this.y);
      this.y += block.height;
    });
  }

  /** Sets rows below a head that is repeated on every page they reach. */
  placeTable(head: Block, rows: readonly Block[]): void {
    if (rows.length === 0) return;
    const { structure } = this.type;
    structure.begin('Table');
    this.place([{ ...head, keepWithNext: true, draw: head.draw }, rows[0]]);
    for (const row of rows.slice(1)) {
      if (this.y + row.height > bottom) {
        this.newPage();
        structure.decoration(() => head.draw(marginX, this.y), 'Pagination');
        this.y += head.height;
      }
      row.draw(marginX, this.y);
      this.y += row.height;
    }
    structure.end();
  }

  private newPage(): void {
    this.type.doc.addPage();
    this.y = top;
  }
}

/** Takes no room itself but wants some left on the page, so that a heading is not parted from the table below it. */
export function room(wantedHeight: number): Block {
  return { height: 0, wantedHeight, draw: () => {} };
}

const gaps = new WeakSet<Block>();

/** White space, left away at the head of a page. */
export function gap(height: number): Block {
  const block: Block = { height, keepWithNext: true, draw: () => {} };
  gaps.add(block);
  return block;
}

function isGap(block: Block): boolean {
  return gaps.has(block);
}

/** The block, kept on the page of what follows. */
export function kept(block: Block): Block {
  return { height: block.height, keepWithNext: true, draw: block.draw };
}

/** A place within the file that links lead to, just above what follows. */
export function anchor(type: Typesetter, name: string): Block {
  return {
    height: 0,
    keepWithNext: true,
    draw: (_x, y) => {
      type.doc.addNamedDestination(
        name,
        'XYZ',
        null as unknown as number,
        Math.max(0, y - 12),
        null as unknown as number,
      );
    },
  };
}
