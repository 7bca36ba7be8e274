/// <reference lib="webworker" />
import type { PlateList } from '../../../shared/plates.ts';
import type { InkLook } from './inkLook.ts';
import { paintTile, type TilePart } from './paintTile.ts';
import { readTileGroup } from './tileGroup.ts';

export type ToTileWorker =
  | { readonly kind: 'plates'; readonly list: PlateList; readonly tilesUrl: string }
  | { readonly kind: 'look'; readonly look: InkLook; readonly lookId: number }
  /** The places wanted now, nearest the middle first; those asked for before and not in the list are dropped. */
  | { readonly kind: 'wanted'; readonly places: readonly TilePlace[] };

export interface TilePlace {
  readonly level: number;
  readonly column: number;
  readonly row: number;
}

export type FromTileWorker =
  | { readonly kind: 'tile'; readonly place: TilePlace; readonly lookId: number; readonly picture: ImageBitmap }
  | { readonly kind: 'failed'; readonly place: TilePlace; readonly message: string };

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

scope.onmessage = ({ data }: MessageEvent<ToTileWorker>) => {
  if (data.kind === 'plates') {
    list = data.list;
    tilesUrl = data.tilesUrl;
    groups.clear();
  } else if (data.kind === 'look') {
    look = data.look;
    lookId = data.lookId;
  } else wanted = [...data.places];
  startMore();
};

function startMore(): void {
  while (running < mostAtOnce && wanted.length > 0 && look !== null) {
    running++;
    void serve(wanted.shift()!).finally(() => {
      running--;
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

function groupAt(place: TilePlace): Promise<TilePart[]> {
  const key = `${place.level}/${place.column}/${place.row}`;
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
  const response = await fetch(`${tilesUrl}/${key}`);
  if (!response.ok) throw new Error(`${response.status} ${response.statusText}`);
  return readTileGroup(new Uint8Array(await response.arrayBuffer()), list, level);
}
