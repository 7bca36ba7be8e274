import { ReusedWords } from '../raster/reusedWords.ts';
import { plateWords } from './detailMemory.ts';

const sumWords = new ReusedWords();

/** Lists of so many numbers, all 0, for what the cells of a map hold; those given out before are not to be used any more. */
export function listsForCells(count: number, length: number): Float32Array[] {
  return listsOf(plateWords.take(count * length).fill(0), count, length);
}

/** Lists of so many numbers that may hold anything, for one step of the work; as short-lived as those. */
export function listsForSums(count: number, length: number): Float32Array[] {
  return listsOf(sumWords.take(count * length), count, length);
}

function listsOf({ buffer, byteOffset }: Uint32Array, count: number, length: number): Float32Array[] {
  return Array.from({ length: count }, (_, k) => new Float32Array(buffer, byteOffset + 4 * k * length, length));
}
