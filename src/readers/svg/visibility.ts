import { type BoxMm, grownBox, intersectionOfBoxes } from '../../geometry/box.ts';
import { dpiFromPitchMm, pitchMmFromDpi } from '../../units/lengths.ts';
import type { HiddenReason, Item, Leaf } from './displayList.ts';
import { countIds, type IdCounts, idTilePx } from './idPass.ts';
import { isWhiteLeaf } from './inks.ts';
import { clippedBox } from './itemBoxes.ts';

const baseDpi = 150;
const closeDpi = 600;
/** Pixels of the first look at the whole page, and of all closer looks together. */
const maxBasePixels = 9_000_000;
const maxClosePixels = 24_000_000;

export interface Visibility {
  /** By leaf: null when something of it is seen. */
  readonly hidden: readonly (HiddenReason | null)[];
  /** Boxes as drawn, for leaves whose box is only known by drawing. */
  readonly drawnBoxes: ReadonlyMap<number, BoxMm>;
}

/**
 * What of the leaves is seen. The page is drawn with a colour for each leaf: first the opaque ones alone, since what
 * can be seen through hides nothing, then all. A leaf without a pixel is looked at more closely, and counts as hidden
 * only if it has pixels when drawn without the others; else it is thinner than the grid.
 */
export async function findVisible(items: readonly Item[], leaves: readonly Leaf[], page: BoxMm): Promise<Visibility> {
  const hidden: (HiddenReason | null)[] = leaves.map((leaf) => leaf.off ?? placeReason(leaf, page));
  const leafCount = leaves.length;
  const drawn = (leaf: Leaf) => hidden[leaf.index] === null;
  if (!leaves.some(drawn)) return { hidden, drawnBoxes: new Map() };
  const dpi = baseDpi * Math.min(1, Math.sqrt(maxBasePixels / pixelsOf(page, baseDpi)));
  const shared = { items, leafCount, area: page };
  await placeTexts(
    shared,
    leaves.filter((leaf) => leaf.kind === 'text' && drawn(leaf)),
  );

  const tops = new Map<number, Int32Array>();
  const hasWhite = leaves.some((leaf) => drawn(leaf) && isWhiteLeaf(leaf));
  const all = await countIds({
    ...shared,
    dpi,
    includes: drawn,
    onTile: hasWhite ? (tile, ids) => tops.set(tile, ids) : undefined,
  });
  const seen = new Uint8Array(leafCount);
  const mark = ({ pixels }: IdCounts, which: (leaf: Leaf) => boolean) => {
    for (const leaf of leaves) if (pixels[leaf.index] > 0 && which(leaf)) seen[leaf.index] = 1;
  };
  const isOpaque = (leaf: Leaf) => !leaf.seeThrough;
  mark(all, () => true);
  const hasSeeThrough = leaves.some((leaf) => drawn(leaf) && leaf.seeThrough);
  if (hasSeeThrough)
    mark(await countIds({ ...shared, dpi, includes: (leaf) => drawn(leaf) && isOpaque(leaf) }), isOpaque);
  if (hasWhite) {
    const idle = await idleWhites(shared, dpi, drawn, leaves, tops);
    for (const index of idle) hidden[index] = 'sameAsGround';
  }

  let unseen = leaves.filter((leaf) => drawn(leaf) && seen[leaf.index] === 0);
  if (unseen.length > 0) {
    const near = unseen.map((leaf) => clippedBox(leaf.cullBoxMm, leaf.clips));
    const close = closeResolution(near, page);
    mark(await countIds({ ...shared, dpi: close, near, includes: drawn }), () => true);
    if (hasSeeThrough) {
      mark(
        await countIds({ ...shared, dpi: close, near, includes: (leaf) => drawn(leaf) && isOpaque(leaf) }),
        isOpaque,
      );
    }
    unseen = unseen.filter((leaf) => seen[leaf.index] === 0);
    if (unseen.length > 0) await explainUnseen(shared, close, unseen, hidden);
  }
  return { hidden, drawnBoxes: all.boxes };
}

/** Texts above this number are not placed one by one; they are then drawn for every tile. */
const maxPlacedTexts = 300;

/** Finds out roughly where each text lies, with an em to spare, so that tiles it misses need not set it. */
async function placeTexts(shared: Shared, texts: readonly Leaf[]): Promise<void> {
  if (texts.length > maxPlacedTexts) return;
  const { widthMm, heightMm } = shared.area;
  const pitchMm = Math.max(widthMm, heightMm) / idTilePx;
  for (const text of texts) {
    const { boxes } = await countIds({
      ...shared,
      dpi: dpiFromPitchMm(pitchMm),
      ignoresClips: true,
      includes: (leaf) => leaf.index === text.index,
    });
    const box = boxes.get(text.index);
    if (box !== undefined) text.cullBoxMm = grownBox(box, text.font!.sizeMm + 2 * pitchMm);
  }
}

/** Why a leaf cannot be seen by where it lies, or null. */
function placeReason(leaf: Leaf, page: BoxMm): HiddenReason | null {
  if (leaf.boxMm === null) return null;
  if (intersectionOfBoxes(leaf.boxMm, page) === null) return 'outsidePage';
  const rest = clippedBox(leaf.cullBoxMm, leaf.clips);
  const isClipped = leaf.clips.some(({ boxMm }) => boxMm !== null);
  if (!isClipped || rest === null) return null;
  return rest.widthMm <= 0 || rest.heightMm <= 0 || intersectionOfBoxes(rest, page) === null ? 'clippedAway' : null;
}

function pixelsOf(box: BoxMm, dpi: number): number {
  return (box.widthMm * box.heightMm) / pitchMmFromDpi(dpi) ** 2;
}

function closeResolution(near: readonly (BoxMm | null)[], page: BoxMm): number {
  const rim = idTilePx * pitchMmFromDpi(closeDpi);
  const total = near.reduce((sum, box) => sum + pixelsOf(box === null ? page : grownBox(box, rim), closeDpi), 0);
  const pixels = Math.min(total, pixelsOf(page, closeDpi));
  return closeDpi * Math.min(1, Math.sqrt(maxClosePixels / pixels));
}

interface Shared {
  readonly items: readonly Item[];
  readonly leafCount: number;
  readonly area: BoxMm;
}

/** White leaves that are seen, but under which there is nothing but paper. */
async function idleWhites(
  shared: Shared,
  dpi: number,
  drawn: (leaf: Leaf) => boolean,
  leaves: readonly Leaf[],
  tops: ReadonlyMap<number, Int32Array>,
): Promise<number[]> {
  const isWhite = leaves.map(isWhiteLeaf);
  const shown = new Uint8Array(leaves.length);
  const matters = new Uint8Array(leaves.length);
  await countIds({
    ...shared,
    dpi,
    includes: (leaf) => drawn(leaf) && !isWhite[leaf.index],
    onTile: (tile, below) => {
      tops.get(tile)!.forEach((id, index) => {
        if (id < 0 || !isWhite[id]) return;
        shown[id] = 1;
        if (below[index] >= 0) matters[id] = 1;
      });
    },
  });
  return leaves
    .map(({ index }) => index)
    .filter((index) => isWhite[index] && shown[index] === 1 && matters[index] === 0);
}

/** Sorts leaves without a pixel into covered, clipped away and merely thinner than the grid. */
async function explainUnseen(
  shared: Shared,
  dpi: number,
  unseen: readonly Leaf[],
  hidden: (HiddenReason | null)[],
): Promise<void> {
  const boxes = (list: readonly Leaf[]) => list.map((leaf) => leaf.cullBoxMm);
  let rest = await withoutDrawn(shared, dpi, unseen, boxes(unseen), false, (leaf) => {
    hidden[leaf.index] = 'covered';
  });
  rest = await withoutDrawn(shared, dpi, rest, boxes(rest), true, (leaf) => {
    hidden[leaf.index] = 'clippedAway';
  });
  const texts = rest.filter((leaf) => leaf.kind === 'text');
  const { widthMm, heightMm } = shared.area;
  const around = { xMm: -widthMm, yMm: -heightMm, widthMm: 3 * widthMm, heightMm: 3 * heightMm };
  await withoutDrawn({ ...shared, area: around }, Math.min(dpi, 72), texts, [null], true, (leaf) => {
    hidden[leaf.index] = 'outsidePage';
  });
}

/** Draws a few leaves without all others, again and again while they only hide each other; returns those never drawn. */
async function withoutDrawn(
  shared: Shared,
  dpi: number,
  leaves: readonly Leaf[],
  near: readonly (BoxMm | null)[],
  ignoresClips: boolean,
  onDrawn: (leaf: Leaf) => void,
): Promise<readonly Leaf[]> {
  let rest = leaves;
  for (let round = 0; rest.length > 0 && round < 8; round++) {
    const wanted = new Set(rest.map(({ index }) => index));
    const { pixels } = await countIds({
      ...shared,
      dpi,
      near,
      ignoresClips,
      includes: (leaf) => wanted.has(leaf.index),
    });
    const found = rest.filter((leaf) => pixels[leaf.index] > 0);
    if (found.length === 0) break;
    found.forEach(onDrawn);
    rest = rest.filter((leaf) => pixels[leaf.index] === 0);
  }
  return rest;
}
