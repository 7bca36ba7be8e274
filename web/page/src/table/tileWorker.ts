/// <reference lib="webworker" />
import type { PlateList } from '../../../shared/plates.ts';
import type { InkLook } from './inkLook.ts';
import { coverAt, paintTile, type TilePart } from './paintTile.ts';
import { readTileGroup } from './tileGroup.ts';

export type ToTileWorker =
  /** `tilesUrl` has "{place}" where the place of a tile goes. */
  | { readonly kind: 'plates'; readonly list: PlateList; readonly tilesUrl: string }
  | { readonly kind: 'look'; readonly look: InkLook; readonly lookId: number }
  /** The places wanted now, nearest the middle first; those asked for before and not in the list are dropped. */
  | { readonly kind: 'wanted'; readonly places: readonly TilePlace[] }
  /** What each plate has at a pixel of level 0. */
  | { readonly kind: 'probe'; readonly probeId: number; readonly xPx: number; readonly yPx: number };

export interface TilePlace {
  readonly level: number;
  readonly column: number;
  readonly row: number;
}

export type FromTileWorker =
  | { readonly kind: 'tile'; readonly place: TilePlace; readonly lookId: number; readonly picture: ImageBitmap }
  | { readonly kind: 'failed'; readonly place: TilePlace; readonly message: string }
  /** Cover of each plate, 0 to 255; null when it could not be had. */
  | { readonly kind: 'probed'; readonly probeId: number; readonly covers: readonly number[] | null };

/** Groups kept as they came or unpacked; some 40 kB to 400 kB each. */
const mostGroups = 300;
const mostAtOnce = 4;

const scope = self as unknown as DedicatedWorkerGlobalScope;
let list: PlateList = { version: '', tileSidePx: 512, plates: [] };
let tilesUrl = '';
let look: InkLook | null = null;
let lookId = 0;
let wanted: TilePlace[] = [];
let running = 0;
const groups = new Map<string, Promise<TilePart[]>>();
/** Being painted now, by place and look: asked for again meanwhile, they are not painted twice. */
const serving = new Set<string>();

scope.onmessage = ({ data }: MessageEvent<ToTileWorker>) => {
  if (data.kind === 'plates') {
    list = data.list;
    tilesUrl = data.tilesUrl;
    groups.clear();
  } else if (data.kind === 'look') {
    look = data.look;
    lookId = data.lookId;
  } else if (data.kind === 'wanted') wanted = [...data.places];
  else void probe(data.probeId, data.xPx, data.yPx);
  startMore();
};

function startMore(): void {
  while (running < mostAtOnce && wanted.length > 0 && look !== null) {
    const place = wanted.shift()!;
    const name = `${lookId}/${keyOf(place)}`;
    if (serving.has(name)) continue;
    running++;
    serving.add(name);
    void serve(place).finally(() => {
      running--;
      serving.delete(name);
      startMore();
    });
  }
}

async function serve(place: TilePlace): Promise<void> {
  try {
    const parts = await groupAt(place);
    const side = list.tileSidePx;
    const servedId = lookId;
    const picture = await createImageBitmap(new ImageData(paintTile(parts, look!, side), side, side));
    const answer: FromTileWorker = { kind: 'tile', place, lookId: servedId, picture };
    scope.postMessage(answer, [picture]);
  } catch (error) {
    const answer: FromTileWorker = { kind: 'failed', place, message: (error as Error).message };
    scope.postMessage(answer);
  }
}

async function probe(probeId: number, xPx: number, yPx: number): Promise<void> {
  const side = list.tileSidePx;
  const place = { level: 0, column: Math.floor(xPx / side), row: Math.floor(yPx / side) };
  const parts = await groupAt(place).catch(() => null);
  const at = (yPx % side) * side + (xPx % side);
  const answer: FromTileWorker = { kind: 'probed', probeId, covers: parts?.map((part) => coverAt(part, at)) ?? null };
  scope.postMessage(answer);
}

function keyOf({ level, column, row }: TilePlace): string {
  return `${level}/${column}/${row}`;
}

function groupAt(place: TilePlace): Promise<TilePart[]> {
  const key = keyOf(place);
  const known = groups.get(key);
  if (known !== undefined) {
    // Asked for again: the last to be dropped.
    groups.delete(key);
    groups.set(key, known);
    return known;
  }
  const loading = load(key, place.level);
  groups.set(key, loading);
  loading.catch(() => groups.delete(key));
  if (groups.size > mostGroups) groups.delete(groups.keys().next().value!);
  return loading;
}

async function load(key: string, level: number): Promise<TilePart[]> {
  const response = await fetch(tilesUrl.replace('{place}', key));
  if (!response.ok) throw new Error(`${response.status} ${response.statusText}`);
  return readTileGroup(new Uint8Array(await response.arrayBuffer()), list, level);
}
