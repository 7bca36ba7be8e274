import type { PlateList } from '../../../shared/plates.ts';
import type { InkLook } from './inkLook.ts';
import type { FromTileWorker, TilePlace, ToTileWorker } from './tileWorker.ts';

/** Painted tiles kept; a megabyte each. */
const mostTiles = 200;
/** After a tile could not be had: the server may be starting again. */
const tryAgainMs = 2000;

interface PaintedTile {
  readonly picture: ImageBitmap;
  readonly lookId: number;
}

/**
 * The painted tiles of one revision: what is there is answered at once, what is missing or was painted for another look is
 * painted by workers and announced. Tiles of the look before are shown until the new ones come.
 */
export class TileStock {
  private readonly workers: Worker[];
  private readonly tiles = new Map<string, PaintedTile>();
  private readonly onChange: () => void;
  private lookId = 0;
  private readonly probes = new Map<number, (covers: readonly number[] | null) => void>();
  private probeId = 0;
  private retry = 0;
  /** Places that could not be had just now, with the reason. */
  readonly failures = new Map<string, string>();

  constructor(list: PlateList, tilesUrl: string, onChange: () => void) {
    this.onChange = onChange;
    const hands = Math.min(4, Math.max(1, (navigator.hardwareConcurrency || 2) - 1));
    this.workers = Array.from({ length: hands }, () => {
      const worker = new Worker(new URL('./tileWorker.ts', import.meta.url), { type: 'module' });
      worker.onmessage = ({ data }: MessageEvent<FromTileWorker>) => this.take(data);
      return worker;
    });
    for (const worker of this.workers) this.tell(worker, { kind: 'plates', list, tilesUrl });
  }

  setLook(look: InkLook): void {
    this.lookId++;
    for (const worker of this.workers) this.tell(worker, { kind: 'look', look, lookId: this.lookId });
  }

  picture({ level, column, row }: TilePlace): ImageBitmap | null {
    return this.tiles.get(keyOf(level, column, row))?.picture ?? null;
  }

  /** Says what is in view, nearest the middle first, and has what is missing painted. */
  want(places: readonly TilePlace[]): void {
    const missing = places.filter(({ level, column, row }) => {
      const key = keyOf(level, column, row);
      const tile = this.tiles.get(key);
      if (tile !== undefined) {
        this.tiles.delete(key);
        this.tiles.set(key, tile);
      }
      return tile?.lookId !== this.lookId && !this.failures.has(key);
    });
    // A place always goes to the same worker, which has its plates unpacked already.
    const shares: TilePlace[][] = this.workers.map(() => []);
    for (const place of missing) shares[(place.column + 7 * place.row + 3 * place.level) % shares.length].push(place);
    this.workers.forEach((worker, index) => {
      this.tell(worker, { kind: 'wanted', places: shares[index] });
    });
  }

  /** Whether there is anything to see. */
  get hasAny(): boolean {
    return this.tiles.size > 0;
  }

  /** Whether every place is there in the present look. */
  isComplete(places: readonly TilePlace[]): boolean {
    return places.every(({ level, column, row }) => this.tiles.get(keyOf(level, column, row))?.lookId === this.lookId);
  }

  /** What each plate has at a pixel of level 0, 0 to 255. */
  probe(xPx: number, yPx: number): Promise<readonly number[] | null> {
    const probeId = ++this.probeId;
    this.tell(this.workers[0], { kind: 'probe', probeId, xPx, yPx });
    return new Promise((resolve) => this.probes.set(probeId, resolve));
  }

  close(): void {
    clearTimeout(this.retry);
    for (const worker of this.workers) worker.terminate();
    for (const { picture } of this.tiles.values()) picture.close();
    this.tiles.clear();
  }

  private take(answer: FromTileWorker): void {
    if (answer.kind === 'probed') {
      this.probes.get(answer.probeId)?.(answer.covers);
      this.probes.delete(answer.probeId);
      return;
    }
    const { level, column, row } = answer.place;
    const key = keyOf(level, column, row);
    if (answer.kind === 'failed') {
      this.failures.set(key, answer.message);
      this.retry ||= window.setTimeout(() => {
        this.retry = 0;
        this.failures.clear();
        this.onChange();
      }, tryAgainMs);
    } else {
      this.tiles.get(key)?.picture.close();
      this.tiles.delete(key);
      this.tiles.set(key, answer);
      for (const [oldest, tile] of this.tiles) {
        if (this.tiles.size <= mostTiles) break;
        tile.picture.close();
        this.tiles.delete(oldest);
      }
    }
    this.onChange();
  }

  private tell(worker: Worker, message: ToTileWorker): void {
    worker.postMessage(message);
  }
}

function keyOf(level: number, column: number, row: number): string {
  return `${level}/${column}/${row}`;
}
