export { beginErosion, erodeRows, erosionScratchBytes } from './erosion';
export { beginFax, faxIsAtEnd, faxRows, faxScratchBytes } from './fax';
export { countBits, countCells, countEdges } from './counting';
export { blockKeys, joinTiles, rankBlocks, tileShares, tilesOnCells } from './blocks';
export { boxSums } from './boxSums';
export { cellRow } from './coarseCells';
export { halveRows } from './halving';
export { addToMap, addTurned, squareTones } from './turnedCells';
export { packPixels } from './packing';
export { latticePower, peakNear, ringPower, spectrumScratchBytes, squareShares, strongestPeaks, windowPower } from './spectrum';
export { beginWidths, widthsAcross } from './widths';
export {
  beginThinning,
  emitLines,
  emittedWords,
  loadThinningRows,
  peelRows,
  thinningScratchBytes,
  thinningStride,
  widenPinholes,
} from './thinning';
export { beginComponents, componentsScratchBytes, foundParts, joinRuns } from './components';

/** First byte of memory that nothing stands in yet. */
export function firstFreeByte(): usize {
  return (__heap_base + 15) & ~15;
}
