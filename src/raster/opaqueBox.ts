import type { BitPlane } from './bitPlane.ts';

/** Columns and rows around everything opaque, `right` and `bottom` one past the last; null on a clear plane. */
export function opaqueBox(
  plane: BitPlane,
): { readonly left: number; readonly top: number; readonly right: number; readonly bottom: number } | null {
  const { heightPx, wordsPerRow, words } = plane;
  let top = -1;
  let bottom = -1;
  const joined = new Uint32Array(wordsPerRow);
  for (let row = 0; row < heightPx; row++) {
    let any = 0;
    for (let word = 0; word < wordsPerRow; word++) {
      const value = words[row * wordsPerRow + word];
      any |= value;
      joined[word] |= value;
    }
    if (any === 0) continue;
    if (top < 0) top = row;
    bottom = row + 1;
  }
  if (top < 0) return null;
  const first = joined.findIndex((word) => word !== 0);
  const last = joined.findLastIndex((word) => word !== 0);
  return {
    left: 32 * first + 31 - Math.clz32(joined[first] & -joined[first]),
    top,
    right: 32 * last + 32 - Math.clz32(joined[last]),
    bottom,
  };
}
