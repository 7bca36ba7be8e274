import type { Composite, SceneItem } from './scene.ts';

/** Opaque, Normal, unmasked. There is one such object, so that it can be told by identity. */
export const plainComposite: Composite = { alpha: 1, blendMode: 'Normal', softMask: null };
let lastComposite = plainComposite;

/** How an object meets the page; the same object for the same state in a row. */
export function compositeOf(alpha: number, blendMode: string, softMask: Composite['softMask']): Composite {
  if (alpha === 1 && blendMode === 'Normal' && !softMask) return plainComposite;
  const last = lastComposite;
  if (last.alpha !== alpha || last.blendMode !== blendMode || last.softMask !== softMask) {
    lastComposite = { alpha, blendMode, softMask };
  }
  return lastComposite;
}

export function isTranslucent(item: SceneItem): boolean {
  return item.composite !== plainComposite;
}

/** Whether the item looks different on another backdrop than the page's, so that isolation matters. */
export function meetsBackdrop(item: SceneItem): boolean {
  if (item.composite.blendMode !== 'Normal') return true;
  switch (item.type) {
    case 'fill':
    case 'stroke':
      return leaves(item.paint);
    case 'image':
      return item.leavesOthers || leaves(item.paint);
    case 'shading':
      return item.leavesOthers;
    case 'text':
      return item.line.shows.some((show) => leaves(show.fillPaint) || leaves(show.strokePaint));
    case 'tiles':
      return item.items.some(meetsBackdrop);
    case 'group':
      return !item.isolated && item.items.some(meetsBackdrop);
  }
}

function leaves(paint: { readonly leavesOthers: boolean } | null): boolean {
  return paint?.leavesOthers ?? false;
}
