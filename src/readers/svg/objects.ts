import type { ArtObject } from '../../artwork/artObject.ts';
import { mmPerPoint } from '../../units/lengths.ts';
import { emptyBox, type Item, type Leaf } from './displayList.ts';
import { type InkTable, isUnseparated, isWhiteLeaf, leafSwatches } from './inks.ts';
import { outlinesOf } from './outlines.ts';
import type { Visibility } from './visibility.ts';

/** The objects of the film as people and checks see them, hidden ones included. */
export function listObjects(
  items: readonly Item[],
  leaves: readonly Leaf[],
  visibility: Visibility,
  inks: InkTable,
  isResolved: (family: string) => boolean,
): ArtObject[] {
  const outlineOf = outlinesOf(items);
  return leaves.map((leaf) => ({
    id: leaf.objectId,
    kind: leaf.kind === 'fill' && leaf.paint?.kind === 'gradient' ? 'shading' : leaf.kind,
    boxMm: leaf.boxMm ?? visibility.drawnBoxes.get(leaf.index) ?? emptyBox,
    inks: inkShares(leaf, inks),
    isWhite: (isWhiteLeaf(leaf) && inkShares(leaf, inks).length === 0) || isUnseparated(leaf),
    strokeWidthMm: leaf.strokeWidthMm,
    outline: inks.hidden[leaf.index] === null ? outlineOf(leaf) : undefined,
    text:
      leaf.font === null
        ? null
        : {
            fontName: leaf.font.family,
            sizePt: leaf.font.sizeMm / mmPerPoint,
            embedded: false,
            resolved: isResolved(leaf.font.family),
            excerpt: leaf.font.excerpt,
          },
    image:
      leaf.image === null
        ? null
        : {
            widthPx: leaf.image.widthPx,
            heightPx: leaf.image.heightPx,
            ppiX: leaf.image.ppiX,
            ppiY: leaf.image.ppiY,
            bitsPerComponent: leaf.image.bitsPerComponent,
            colour: leaf.image.colour,
          },
    overprint: null,
    opacityRatio: leaf.opacityRatio,
    blendMode: leaf.blendMode,
    layerPath: leaf.layers.map(({ label }) => label),
    hidden: inks.hidden[leaf.index],
  }));
}

/** The inks a leaf is painted with, each once with its strongest tint. */
export function inkShares(leaf: Leaf, inks: InkTable): { key: string; tintRatio: number }[] {
  const shares = new Map<string, number>();
  for (const swatch of leafSwatches(leaf)) {
    const share = inks.shareOf(leaf, swatch);
    if (share !== null) shares.set(share.key, Math.max(shares.get(share.key) ?? 0, share.tintRatio * swatch.alpha));
  }
  return [...shares].map(([key, tintRatio]) => ({ key, tintRatio }));
}
