import type { DrawPass, FilmDrawing } from '../../artwork/drawing.ts';
import type { Item, Leaf, Swatch } from './displayList.ts';
import { emitItems } from './emit.ts';
import { type InkTable, isUnseparated, registrationKey, whiteKey } from './inks.ts';

const inksPerPass = 3;

/** Passes of three inks, each in one of red, green and blue; 0 = opaque. */
export function drawingOf(items: readonly Item[], inks: InkTable): FilmDrawing {
  return {
    nativeGrid: null,
    plan: async (keys, grid) => {
      const passes: DrawPass[] = [];
      for (let start = 0; start < keys.length; start += inksPerPass) {
        const passKeys = keys.slice(start, start + inksPerPass);
        const { defs, fragments } = await emitItems(items, { flat: false, colourOf: colourFor(passKeys, inks) });
        passes.push({ grid, keys: passKeys, job: { engine: 'svg', defs, fragments } });
      }
      return passes;
    },
  };
}

/** The colour that carries a leaf's colour in each channel: its ink darkens its own, registration every one. */
function colourFor(keys: readonly string[], inks: InkTable): (leaf: Leaf, swatch: Swatch) => string {
  return (leaf, swatch) => {
    if (isUnseparated(leaf)) return '#ffffff';
    const share = inks.shareOf(leaf, swatch) ?? { key: whiteKey, tintRatio: 1 };
    const carrier = Math.round(255 * (1 - share.tintRatio));
    const channels = [0, 1, 2].map((index) =>
      keys[index] === share.key || share.key === registrationKey ? carrier : 255,
    );
    return `#${channels.map((value) => value.toString(16).padStart(2, '0')).join('')}`;
  };
}
