import type { BitPlane } from './bitPlane.ts';

/** Columns and rows around everything opaque, `right` and `bottom` one past the last; null on a clear plane. */
export function opaqueBox(
  plane: BitPlane,
): { readonly left: number; readonly top: number; readonly right: number; readonly bottom: number } | null {
  const { heightPx, wordsPerRow, words } = plane;
  let top = -1;
  let bottom = -1;
  let first = wordsPerRow;
  let last = -1;
  let firstBits = 0;
  let lastBits = 0;
  // Each row is looked at from both sides, no further in than the box reaches already.
  for (let row = 0; row < heightPx; row++) {
    const base = row * wordsPerRow;
    let word = 0;
    while (word < wordsPerRow && words[base + word] === 0) word++;
    if (word === wordsPerRow) continue;
    if (top < 0) top = row;
    bottom = row + 1;
    if (word < first) firstBits = 0;
    if (word <= first) {
      first = word;
      firstBits |= words[base + word];
    }
    word = wordsPerRow - 1;
    while (words[base + word] === 0 && word >= last) word--;
    if (word > last) lastBits = 0;
    if (word >= last) {
      last = word;
      lastBits |= words[base + word];
    }
  }
  if (top < 0) return null;
  return {
    left: 32 * first + 31 - Math.clz32(firstBits & -firstBits),
    top,
    right: 32 * last + 32 - Math.clz32(lastBits),
    bottom,
  };
}
