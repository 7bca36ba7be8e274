import { createHash } from 'node:crypto';
import { promisify } from 'node:util';
import { deflateRaw } from 'node:zlib';
import type { BlobStore } from '../../src/jobs/jobStore.ts';
import type { Artifact } from '../../src/jobs/jobTypes.ts';
import { isKept } from '../../src/plateArchive/archiveFormat.ts';
import type { KeptPlate, KeptPlates } from '../../src/plateArchive/keptPlates.ts';
import { PlateArchive } from '../../src/plateArchive/openArchive.ts';
import { clearTileLength, type PlateList, solidTileLength } from '../shared/plates.ts';
import { fileSource } from './fileSource.ts';
import { Recent } from './recent.ts';

const deflate = promisify(deflateRaw);
const listName = 'plates/plates.json';

/** Indexes of plates held open: 5 kB each for a film of 400 x 500 mm at 720 dpi. */
const mostArchives = 200;
/** Groups of levels that have to be made, held in memory. */
const mostGroups = 100;

/** A plate that was kept, and where its file lies. */
export interface KeptPlateFile {
  readonly plateId: string;
  readonly facts: KeptPlate;
  readonly file: string;
}

export type Tile = Uint8Array | 'clear' | 'solid';

/** The plates of revisions as the page asks for them: the list, and groups of tiles. */
export class RevisionPlates {
  private readonly blobs: BlobStore;
  private readonly archives = new Recent<Promise<PlateArchive>>(mostArchives);
  private readonly groups = new Recent<Promise<Uint8Array>>(mostGroups);
  private readonly lists = new Recent<Promise<KeptPlates>>(mostArchives);

  constructor(blobs: BlobStore) {
    this.blobs = blobs;
  }

  /** Changes with the plates; null when none were kept. */
  version(artifacts: readonly Artifact[]): string | null {
    if (!artifacts.some(({ name }) => name === listName)) return null;
    // The list alone does not tell: plates of one size that show other things have the same list.
    const kept = artifacts.filter(({ name }) => name === listName || name.endsWith('.plate'));
    return createHash('sha256')
      .update(kept.map(({ name, sha256 }) => `${name} ${sha256}`).join('\n'))
      .digest('hex')
      .slice(0, 32);
  }

  /** Null when no plates were kept of the revision. */
  async list(artifacts: readonly Artifact[]): Promise<KeptPlates | null> {
    const found = artifacts.find(({ name }) => name === listName);
    if (found === undefined) return null;
    return this.lists.get(found.sha256, async () => {
      return JSON.parse(Buffer.from(await this.blobs.read(found.sha256)).toString('utf8')) as KeptPlates;
    });
  }

  /** A group of tiles, or null where no plate has a tile; see `web/shared/plates.ts` for how it is written. */
  async group(artifacts: readonly Artifact[], level: number, column: number, row: number): Promise<Uint8Array | null> {
    const kept = await this.list(artifacts);
    if (kept === null) return null;
    const opened = await Promise.all(kept.plates.map((plate) => this.open(artifacts, plate)));
    if (!opened.some((archive) => archive.has(level, column, row))) return null;
    const make = async () => joined(await Promise.all(opened.map((archive) => tileOf(archive, level, column, row))));
    // What lies in the files as it is sent costs nothing to make again.
    if (isKept(level)) return make();
    return this.groups.get(`${this.version(artifacts)}/${level}/${column}/${row}`, make);
  }

  /** The files of all plates that were kept, for another thread; none when none were. */
  async filesOf(artifacts: readonly Artifact[]): Promise<KeptPlateFile[]> {
    const kept = (await this.list(artifacts))?.plates ?? [];
    return kept.map((facts) => ({
      ...{ plateId: facts.plateId, facts },
      file: this.blobs.pathOf(this.artifactOf(artifacts, facts).sha256),
    }));
  }

  artifactOf(artifacts: readonly Artifact[], plate: KeptPlate): Artifact {
    return artifacts.find(({ name }) => name === `plates/${plate.file}`)!;
  }

  open(artifacts: readonly Artifact[], plate: KeptPlate): Promise<PlateArchive> {
    const { sha256, name } = this.artifactOf(artifacts, plate);
    return this.archives.get(sha256, async () =>
      PlateArchive.open(plate, await fileSource(this.blobs.pathOf(sha256), name)),
    );
  }
}

/** What the page is told of the plates. */
export function plateListOf({ tileSidePx, plates }: KeptPlates, version: string): PlateList {
  return {
    version,
    tileSidePx,
    plates: plates.map(({ plateId, inkName, displayHex, widthPx, heightPx, pitchXMm, pitchYMm, depth, levels }) => ({
      plateId,
      inkName,
      displayHex,
      widthPx,
      heightPx,
      pitchXMm,
      pitchYMm,
      depth,
      levels,
    })),
  };
}

async function tileOf(archive: PlateArchive, level: number, column: number, row: number): Promise<Tile> {
  if (!archive.has(level, column, row)) return 'clear';
  const kept = await archive.keptTile(level, column, row);
  if (kept !== null) return kept.kind === 'packed' ? kept.bytes : kept.kind;
  const cover = await archive.coverTile(level, column, row);
  const [first] = cover;
  if ((first === 0 || first === 255) && cover.every((value) => value === first)) return first === 0 ? 'clear' : 'solid';
  return deflate(cover, { level: 1 });
}

/** A group as it is sent; see `web/shared/plates.ts`. */
export function joined(tiles: readonly Tile[]): Uint8Array {
  const size = tiles.reduce((sum, tile) => sum + 4 + (typeof tile === 'string' ? 0 : tile.length), 0);
  const bytes = new Uint8Array(size);
  const view = new DataView(bytes.buffer);
  let at = 0;
  for (const tile of tiles) {
    if (typeof tile === 'string') view.setUint32(at, tile === 'clear' ? clearTileLength : solidTileLength, true);
    else {
      view.setUint32(at, tile.length, true);
      bytes.set(tile, at + 4);
      at += tile.length;
    }
    at += 4;
  }
  return bytes;
}
