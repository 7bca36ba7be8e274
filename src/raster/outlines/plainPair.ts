import type { BitPlane } from '../bitPlane.ts';
import { mapEdgeTiles, tilesWithinReach } from '../edgeTiles.ts';
import type { FacedOutline } from '../facedOutline.ts';
import { type EdgedPlane, isSameGrid } from '../griddedPlane.ts';
import { coarsePitchMm } from '../pixelGrid.ts';
import type { OutlineSearch, PlanePair, SpanCounts } from '../planePair.ts';
import { resampledPlane } from '../resampledPlane.ts';
import { FacingEdge } from './facingEdge.ts';
import { OutlineReadings } from './outlineReadings.ts';
import { walkOutlines } from './outlineWalk.ts';
import { PlainSpans, sharedPixels } from './plainSpans.ts';
import { tilesNear, tilesOfCells } from './plainTiles.ts';
import { StretchCutter } from './stretchCutter.ts';

/** Outlines of fewer pixel sides are specks. */
const shortestOutline = 12;

/** Two planes compared without kernels. */
export class PlainPair implements PlanePair {
  readonly own: EdgedPlane;
  readonly other: EdgedPlane;

  constructor(own: EdgedPlane, other: EdgedPlane) {
    this.own = own;
    this.other = other;
  }

  sharedAreaMm2(): number {
    const { grid, bits } = this.own;
    return sharedPixels(bits, this.otherOnOwnGrid()) * grid.pitchXMm * grid.pitchYMm;
  }

  countSpans(tiles: Uint8Array, spans: (span: (row: number, from: number, end: number) => void) => void): SpanCounts {
    const counts = new PlainSpans(this.own.bits, this.otherOnOwnGrid(), tiles);
    spans((row, from, end) => counts.add(row, from, end));
    return counts;
  }

  edgeTiles(): Uint8Array {
    return tilesOfCells(this.own.cells, this.own.bits.wordsPerRow);
  }

  nearTiles(reachMm: number): Uint8Array {
    const { own, other } = this;
    const { wordsPerRow } = own.bits;
    let otherTiles = tilesOfCells(other.cells, other.bits.wordsPerRow);
    if (!isSameGrid(own.grid, other.grid)) {
      const tiles = { tilesPerRow: other.bits.wordsPerRow, flags: otherTiles };
      otherTiles = mapEdgeTiles(tiles, other.grid, own.grid, wordsPerRow);
    }
    const across = tilesWithinReach(reachMm, own.grid.pitchXMm);
    const down = tilesWithinReach(reachMm, own.grid.pitchYMm);
    return tilesNear(this.edgeTiles(), otherTiles, wordsPerRow, across, down);
  }

  visitOutlines(search: OutlineSearch, visit: (outline: FacedOutline) => void): void {
    const { own, other } = this;
    const readings = new OutlineReadings(own, new FacingEdge(own, other, search), search.ignoreBoxes);
    const cutter = new StretchCutter(search.reachMm, coarsePitchMm(own.grid));
    walkOutlines(own.bits, search.tiles, (sides) => {
      if (sides.count < shortestOutline) return;
      readings.take(sides);
      const stretches = cutter.cut(readings);
      if (stretches.length + readings.stripCount === 0) return;
      visit({
        closed: readings.closed,
        stretches,
        facedShare: cutter.heldSamples / readings.length,
        enclosedMm2: readings.closed ? readings.enclosedMm2() : 0,
        strips: readings.stripCount === 0 ? null : readings,
      });
    });
  }

  private otherOnOwnGrid(): BitPlane {
    const { own, other } = this;
    return isSameGrid(own.grid, other.grid) ? other.bits : resampledPlane(other.bits, other.grid, own.grid);
  }
}
