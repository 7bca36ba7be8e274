export { findEdgeCells, sharedPixels } from './cells';
export { setPlane } from './field';
export { beginOutlines, nextOutline } from './outlines';
export { beginSpans, countSpan, levelSides, sharedInSpans, uprightSides } from './spans';
export { flagTiles, keepNear, layOutTiles, widenCells } from './tiles';

/** First byte of memory that nothing stands in yet. */
export function firstFreeByte(): usize {
  return (__heap_base + 15) & ~15;
}
