import { promisify } from 'node:util';
import { deflateRaw } from 'node:zlib';
import type { BlobStore } from '../../src/jobs/jobStore.ts';
import type { Artifact } from '../../src/jobs/jobTypes.ts';
import { type ArchivedPlate, archiveTilePx, firstKeptLevel, levelCount } from '../../src/plateArchive/archiveFormat.ts';
import type { PlateChange } from '../../src/plateArchive/comparePlates.ts';
import { type CommonGrid, tileDifference } from '../../src/plateArchive/compareTiles.ts';
import type { KeptPlate } from '../../src/plateArchive/keptPlates.ts';
import { type ComparedPair, comparePairs } from '../../src/plateArchive/pairPlates.ts';
import { bitAt } from '../../src/raster/bitPlane.ts';
import type { ComparedInk } from '../shared/compare.ts';
import type { PlateList, PlateOfList } from '../shared/plates.ts';
import { Recent } from './recent.ts';
import { joined, type RevisionPlates, type Tile } from './revisionPlates.ts';

const deflate = promisify(deflateRaw);

export interface PlateFile {
  readonly file: string;
  readonly facts: ArchivedPlate;
}

/** Two plates to be compared, away from the thread that answers requests. */
export interface CompareOrder {
  readonly before: PlateFile | null;
  readonly after: PlateFile | null;
  readonly grid: CommonGrid;
}

export type ComparePlates = (order: CompareOrder) => Promise<PlateChange>;

type Artifacts = readonly Artifact[];
interface Compared {
  readonly grid: CommonGrid;
  readonly pairs: readonly ComparedPair[];
}

/** Each holds two bits for 64 pixels of every plate: 12 MB for twelve of 300 megapixels. */
const mostCompared = 4;
const mostPlaces = 200;
const side = archiveTilePx;

/** What changed between the plates of two revisions, worked out once and kept for a while. */
export class Comparisons {
  private readonly compared = new Recent<Promise<Compared>>(mostCompared);
  private readonly blobs: BlobStore;
  private readonly plates: RevisionPlates;
  private readonly compare: ComparePlates;

  constructor(blobs: BlobStore, plates: RevisionPlates, compare: ComparePlates) {
    this.blobs = blobs;
    this.plates = plates;
    this.compare = compare;
  }

  /** Null when the plates of one of the two were not kept. */
  async inks(before: Artifacts, after: Artifacts): Promise<{ list: PlateList; inks: ComparedInk[] } | null> {
    const compared = await this.of(before, after);
    if (compared === null) return null;
    const { grid, pairs } = compared;
    const part = (plateId: string): PlateOfList => ({
      ...{ plateId, inkName: plateId, displayHex: '#000000', depth: 1, ...grid },
      levels: levelCount(grid.widthPx, grid.heightPx),
    });
    const version = `${this.plates.version(before)}-${this.plates.version(after)}`;
    return {
      list: { version, tileSidePx: side, plates: ['now', 'gone', 'added'].map(part) },
      inks: pairs.map(comparedInk),
    };
  }

  /** A group of three tiles: what the later revision has, what is gone, what was added. Null beyond the film. */
  async group(
    before: Artifacts,
    after: Artifacts,
    place: { readonly level: number; readonly column: number; readonly row: number },
  ): Promise<Uint8Array | null> {
    const compared = await this.of(before, after);
    if (compared === null) return null;
    const { level, column, row } = place;
    const { grid } = compared;
    if (level >= levelCount(grid.widthPx, grid.heightPx)) return null;
    const reach = side * 2 ** level;
    if (column * reach >= grid.widthPx || row * reach >= grid.heightPx) return null;
    const [gone, added] =
      level >= firstKeptLevel
        ? [reducedTile(compared, 'gone', place), reducedTile(compared, 'added', place)]
        : await this.fineTiles(compared, before, after, place);
    return joined([await this.nowTile(compared, after, place), await packed(gone), await packed(added)]);
  }

  private async of(before: Artifacts, after: Artifacts): Promise<Compared | null> {
    const [was, is] = await Promise.all([this.plates.list(before), this.plates.list(after)]);
    if (was === null || is === null || was.plates.length + is.plates.length === 0) return null;
    return this.compared.get(`${this.plates.version(before)}-${this.plates.version(after)}`, async () => {
      const fileOf = (artifacts: Artifacts, plate: KeptPlate | null): PlateFile | null =>
        plate && { file: this.blobs.pathOf(this.plates.artifactOf(artifacts, plate).sha256), facts: plate };
      return comparePairs(was.plates, is.plates, (pair, grid) =>
        this.compare({ before: fileOf(before, pair.before), after: fileOf(after, pair.after), grid }),
      );
    });
  }

  /** Gone and added at levels 0 (bits) to 2 (bytes), from the plates themselves. */
  private async fineTiles(
    { pairs, grid }: Compared,
    before: Artifacts,
    after: Artifacts,
    { level, column, row }: { readonly level: number; readonly column: number; readonly row: number },
  ): Promise<[Uint8Array, Uint8Array]> {
    const parts = 2 ** level;
    const sizeBytes = level === 0 ? (side * side) / 8 : side * side;
    const [gone, added] = [new Uint8Array(sizeBytes), new Uint8Array(sizeBytes)];
    for (const { before: was, after: is, change } of pairs) {
      if (change.places.length === 0) continue;
      const plates = {
        before: was && (await this.plates.open(before, was)),
        after: is && (await this.plates.open(after, is)),
      };
      for (let part = 0; part < parts * parts; part++) {
        const [across, down] = [part % parts, Math.floor(part / parts)];
        const difference = await tileDifference(plates, grid, column * parts + across, row * parts + down);
        if (difference === null) continue;
        for (const [bits, into] of [
          [difference.gone, gone],
          [difference.added, added],
        ] as const) {
          if (level === 0) for (let at = 0; at < bits.length; at++) into[at] |= bits[at];
          else addReduced(bits, into, level, across, down);
        }
      }
    }
    return [gone, added];
  }

  /** The art of the later revision, all inks together. */
  private async nowTile(
    { pairs }: Compared,
    after: Artifacts,
    { level, column, row }: { readonly level: number; readonly column: number; readonly row: number },
  ): Promise<Tile> {
    const sizeBytes = level === 0 ? (side * side) / 8 : side * side;
    const now = new Uint8Array(sizeBytes);
    for (const { after: plate } of pairs) {
      if (plate === null) continue;
      const archive = await this.plates.open(after, plate);
      if (!archive.has(level, column, row)) continue;
      if (level > 0) {
        const cover = await archive.coverTile(level, column, row);
        for (let at = 0; at < sizeBytes; at++) if (cover[at] > now[at]) now[at] = cover[at];
      } else {
        const tile = await archive.plainTile(column, row);
        if (archive.facts.depth === 1) for (let at = 0; at < sizeBytes; at++) now[at] |= tile[at];
        else for (let at = 0; at < tile.length; at++) if (tile[at] >= 128) now[at >> 3] |= 1 << (at & 7);
      }
    }
    return packed(now);
  }
}

function comparedInk({ before, after, change }: ComparedPair): ComparedInk {
  const { inkName, displayHex } = (after ?? before)!;
  const { goneMm2, addedMm2, leastChangeMm, places } = change;
  const kind = before === null ? 'added' : after === null ? 'removed' : places.length > 0 ? 'changed' : 'same';
  return {
    ...{ inkName, displayHex, kind, goneMm2, addedMm2, leastChangeMm },
    nameBefore: before?.inkName ?? null,
    places: places.slice(0, mostPlaces),
    placesTotal: places.length,
  };
}

/** Where anything of any ink is gone or added, at a level that is made of what was kept of the comparison. */
function reducedTile(
  { pairs, grid }: Compared,
  what: 'gone' | 'added',
  { level, column, row }: { readonly level: number; readonly column: number; readonly row: number },
): Uint8Array {
  const tile = new Uint8Array(side * side);
  const step = 2 ** (level - firstKeptLevel);
  const most = { x: Math.ceil(grid.widthPx / 2 ** firstKeptLevel), y: Math.ceil(grid.heightPx / 2 ** firstKeptLevel) };
  for (const { change } of pairs) {
    if (change.places.length === 0) continue;
    const plane = change[what];
    for (let y = row * side * step; y < Math.min(most.y, (row + 1) * side * step); y++) {
      const to = Math.floor(y / step - row * side) * side - column * side;
      for (let x = column * side * step; x < Math.min(most.x, (column + 1) * side * step); x++) {
        // Whole words that are clear are passed over.
        if ((x & 31) === 0 && plane.words[y * plane.wordsPerRow + (x >> 5)] === 0) {
          x += 31;
          continue;
        }
        if (bitAt(plane, x, y) === 1) tile[to + Math.floor(x / step)] = 255;
      }
    }
  }
  return tile;
}

/** Any set bit of a tile of level 0 sets its pixel of a part of a reduced tile. */
function addReduced(bits: Uint8Array, into: Uint8Array, level: number, across: number, down: number): void {
  const part = side >> level;
  for (let byte = 0; byte < bits.length; byte++) {
    if (bits[byte] === 0) continue;
    for (let bit = 0; bit < 8; bit++) {
      if (((bits[byte] >> bit) & 1) === 0) continue;
      const [x, y] = [(8 * byte + bit) % side, Math.floor((8 * byte) / side)];
      into[(down * part + (y >> level)) * side + across * part + (x >> level)] = 255;
    }
  }
}

async function packed(tile: Uint8Array): Promise<Tile> {
  const [first] = tile;
  if ((first === 0 || first === 255) && tile.every((byte) => byte === first)) return first === 0 ? 'clear' : 'solid';
  return deflate(tile, { level: 1 });
}
