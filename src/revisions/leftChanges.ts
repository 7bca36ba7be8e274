import { type BoxMm, grownBox, intersectionOfBoxes, unionOfBoxes } from '../geometry/box.ts';
import { ChangedCells } from '../plateArchive/comparePlates.ts';
import type { CommonGrid } from '../plateArchive/compareTiles.ts';
import { type BitPlane, bitAt } from '../raster/bitPlane.ts';
import { readWindow } from '../raster/window.ts';
import { type EdgeBand, edgeBandIn, type WindowPx } from './edgeBand.ts';
import type { Planes } from './transforms.ts';

/** A place of one plate that was neither moved nor resized. */
export interface LeftChange {
  readonly kind: 'added' | 'removed' | 'thickened' | 'thinned' | 'redrawn' | 'toned';
  readonly box: BoxMm;
  readonly areaMm2: number;
  readonly byMm?: number;
  /** Ink lay all around it (of what was added), or does now (of what was removed): a hole that closed, or opened. */
  readonly isInInk: boolean;
}

/** Less than this share of a change may be of the other kind. */
const mereShare = 0.1;
/** Places this near to each other are one. */
const onePlaceMm = 3;
/** Looked at around a place. */
const marginMm = 2;
const mostWindowPx = 500;
const mostWindows = 4;
/** An edge that lies no further off than this lies where it lay. */
const sameEdgeMm = 0.16;
/** Points along the edge of a box. */
const edgeSamples = 200;
/** Of more places than this only the largest are looked at closely. */
const mostLookedAt = 1_000;

/** What is gone and added on one plate, place by place, by kind. */
export function leftChanges(planes: Planes, gone: BitPlane, added: BitPlane): LeftChange[] {
  const places = placesOf(planes.grid, [gone, added]);
  return gathered(
    places.flatMap(({ goneMm2, addedMm2, ...box }, index): LeftChange[] => {
      const areaMm2 = goneMm2 + addedMm2;
      const isMerely = (other: number) => other <= mereShare * areaMm2;
      const bandOf = (more: boolean) => (index >= mostLookedAt ? null : bandAt(planes, box, more ? added : gone, more));
      if (!isMerely(goneMm2) && !isMerely(addedMm2))
        return [bandOf(true), bandOf(false)].every(isSameEdge)
          ? []
          : [{ kind: 'redrawn', box, areaMm2, isInInk: false }];
      const isMore = isMerely(goneMm2);
      const isInInk = isSurrounded(isMore ? planes.before : planes.after, planes.grid, box);
      const band = bandOf(isMore);
      if (band === null) return [{ kind: isMore ? 'added' : 'removed', box, areaMm2, isInInk }];
      if (isSameEdge(band)) return [];
      const byMm = band.widthMm * (band.isOnBothSides ? 2 : 1);
      return [{ kind: isMore ? 'thickened' : 'thinned', box, areaMm2, byMm, isInInk }];
    }),
  );
}

/** Whether a band tells no more than that an edge was drawn a little elsewhere. */
function isSameEdge(band: EdgeBand | null): boolean {
  return band !== null && !band.isOnBothSides && band.widthMm <= sameEdgeMm;
}

/** Where art that prints as before has another tone. */
export function tonedPlaces(grid: CommonGrid, toned: BitPlane): LeftChange[] {
  return gathered(
    placesOf(grid, [toned]).map(({ goneMm2, addedMm2, ...box }) => ({
      kind: 'toned',
      box,
      areaMm2: goneMm2 + addedMm2,
      isInInk: false,
    })),
  );
}

function placesOf(grid: CommonGrid, [gone, added]: readonly BitPlane[]) {
  const cells = new ChangedCells(grid);
  eachBit(gone, (x, y) => cells.add(x, y, true));
  if (added !== undefined) eachBit(added, (x, y) => cells.add(x, y, false));
  return cells.places(grid);
}

function eachBit({ words, wordsPerRow }: BitPlane, see: (column: number, row: number) => void): void {
  for (let at = 0; at < words.length; at++) {
    const word = words[at];
    if (word === 0) continue;
    const [column, row] = [32 * (at % wordsPerRow), Math.floor(at / wordsPerRow)];
    for (let bit = 0; bit < 32; bit++) if ((word >>> bit) & 1) see(column + bit, row);
  }
}

/** The band along what both revisions have, as the parts of the place show it in which most changed. */
function bandAt({ grid, before, after }: Planes, box: BoxMm, changed: BitPlane, isMore: boolean): EdgeBand | null {
  const { xMm, yMm, widthMm, heightMm } = grownBox(box, marginMm);
  const ranges = (from: number, length: number, pitch: number, whole: number): [first: number, size: number][] => {
    const [first, end] = [Math.max(0, Math.floor(from / pitch)), Math.min(whole, Math.ceil((from + length) / pitch))];
    const count = Math.ceil((end - first) / mostWindowPx);
    const size = Math.ceil((end - first) / count);
    return Array.from({ length: count }, (_, index) => [first + index * size, size]);
  };
  const columns = ranges(xMm, widthMm, grid.pitchXMm, changed.widthPx);
  const windows = ranges(yMm, heightMm, grid.pitchYMm, changed.heightPx).flatMap(([top, heightPx]) =>
    columns.map(([left, widthPx]): WindowPx => ({ left, top, widthPx, heightPx })),
  );
  const seen = windows
    .map((window) => ({ window, count: countIn(changed, window) }))
    .filter(({ count }) => count > 0)
    .sort((a, b) => b.count - a.count)
    .slice(0, mostWindows);
  const bands = seen.map(({ window }) => edgeBandIn(changed, isMore ? before : after, grid, window));
  return bands.every((band) => band !== null) ? (bands[0] ?? null) : null;
}

function countIn(plane: BitPlane, { left, top, widthPx, heightPx }: WindowPx): number {
  return readWindow(plane, left, top, widthPx, heightPx).reduce((sum, bit) => sum + bit, 0);
}

/** Whether a plane is opaque along most of the edge of a box, just outside it. */
function isSurrounded(plane: BitPlane, { pitchXMm, pitchYMm }: CommonGrid, box: BoxMm): boolean {
  const { xMm, yMm, widthMm, heightMm } = grownBox(box, 3 * Math.max(pitchXMm, pitchYMm));
  let opaque = 0;
  for (let step = 0; step < edgeSamples; step++) {
    const along = (4 * step) / edgeSamples;
    const [side, share] = [Math.floor(along), along % 1];
    const x = side === 0 || side === 2 ? share : side === 1 ? 1 : 0;
    const y = side === 1 || side === 3 ? share : side === 2 ? 1 : 0;
    opaque += bitAt(plane, Math.floor((xMm + x * widthMm) / pitchXMm), Math.floor((yMm + y * heightMm) / pitchYMm));
  }
  return opaque > 0.6 * edgeSamples;
}

/** Places of one kind that lie near each other, as one. */
function gathered(changes: readonly LeftChange[]): LeftChange[] {
  const found: LeftChange[] = [];
  for (const change of changes) {
    let joined = change;
    for (let index = found.length - 1; index >= 0; index--) {
      const other = found[index];
      if (!isOnePlace(other, joined)) continue;
      found.splice(index, 1);
      joined = together(other, joined);
      index = found.length;
    }
    found.push(joined);
  }
  return found.sort((a, b) => b.areaMm2 - a.areaMm2);
}

function isOnePlace(one: LeftChange, other: LeftChange): boolean {
  return one.kind === other.kind && intersectionOfBoxes(grownBox(one.box, onePlaceMm), other.box) !== null;
}

/** The larger of the two tells by how much. */
function together(one: LeftChange, other: LeftChange): LeftChange {
  const larger = one.areaMm2 >= other.areaMm2 ? one : other;
  return { ...larger, box: unionOfBoxes(one.box, other.box), areaMm2: one.areaMm2 + other.areaMm2 };
}
