/** A layer as its record names it. */
export interface PsdLayer {
  readonly name: string;
  readonly hidden: boolean;
  /** Groups and the marks that end them hold no pixels of their own. */
  readonly isGroup: boolean;
}

const maxLayers = 8000;

/** Names and visibility of the layers, top first, and whether the merged picture carries transparency. */
export function layersOf(
  bytes: Uint8Array,
  start: number,
  length: number,
  large: boolean,
): { layers: readonly PsdLayer[]; hasTransparency: boolean } {
  const lengthBytes = large ? 8 : 4;
  if (length < lengthBytes + 2) return { layers: [], hasTransparency: false };
  const view = new DataView(bytes.buffer, bytes.byteOffset, Math.min(bytes.byteLength, start + length));
  const count = view.getInt16(start + lengthBytes);
  const layers: PsdLayer[] = [];
  let at = start + lengthBytes + 2;
  for (let i = 0; i < Math.min(Math.abs(count), maxLayers); i++) {
    const channels = view.getUint16(at + 16);
    const blend = at + 18 + channels * (large ? 10 : 6);
    const flags = view.getUint8(blend + 10);
    const extraLength = view.getUint32(blend + 12);
    const extra = blend + 16;
    layers.push({ ...nameOf(bytes, view, extra, extra + extraLength, large), hidden: (flags & 2) !== 0 });
    at = extra + extraLength;
  }
  return { layers: layers.reverse(), hasTransparency: count < 0 };
}

function nameOf(
  bytes: Uint8Array,
  view: DataView,
  start: number,
  end: number,
  large: boolean,
): { name: string; isGroup: boolean } {
  let at = start + 4 + view.getUint32(start);
  at += 4 + view.getUint32(at);
  const size = view.getUint8(at);
  let name = new TextDecoder('latin1').decode(bytes.subarray(at + 1, at + 1 + size));
  let isGroup = false;
  // The name with its length byte is padded to a multiple of four.
  at += (size + 4) & ~3;
  while (at + 12 <= end) {
    const key = String.fromCharCode(...bytes.subarray(at + 4, at + 8));
    const wide = large && longBlocks.has(key);
    const length = wide ? Number(view.getBigUint64(at + 8)) : view.getUint32(at + 8);
    const data = at + (wide ? 16 : 12);
    if (key === 'luni') name = unicodeText(bytes, view, data);
    if (key === 'lsct') isGroup = view.getUint32(data) !== 0;
    at = data + length + (length & 1);
  }
  return { name, isGroup };
}

/** Blocks whose length takes eight bytes in PSB files. */
const longBlocks = new Set([
  'LMsk',
  'Lr16',
  'Lr32',
  'Layr',
  'Mt16',
  'Mt32',
  'Mtrn',
  'Alph',
  'FMsk',
  'lnk2',
  'FEid',
  'FXid',
  'PxSD',
]);

/** A count of UTF-16 units and the units, highest byte first. */
export function unicodeText(bytes: Uint8Array, view: DataView, at: number): string {
  const units = view.getUint32(at);
  const data = bytes.slice(at + 4, at + 4 + units * 2);
  return new TextDecoder('utf-16be').decode(data).replace(/\0+$/, '');
}
