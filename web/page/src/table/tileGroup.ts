import { inflateSync } from 'fflate';
import { clearTileLength, type PlateList, solidTileLength, tileBytes } from '../../../shared/plates.ts';
import type { TilePart } from './paintTile.ts';

/** Takes a group of tiles apart; see `web/shared/plates.ts` for how it is written. */
export function readTileGroup(bytes: Uint8Array, list: PlateList, level: number): TilePart[] {
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  let at = 0;
  return list.plates.map((plate): TilePart => {
    const length = view.getUint32(at, true);
    at += 4;
    if (length === clearTileLength) return { kind: 'flat', value: 0 };
    if (length === solidTileLength) return { kind: 'flat', value: 255 };
    const values = inflateSync(bytes.subarray(at, at + length), {
      out: new Uint8Array(tileBytes(plate, level, list.tileSidePx)),
    });
    at += length;
    return { kind: level === 0 && plate.depth === 1 ? 'bits' : 'bytes', values };
  });
}
