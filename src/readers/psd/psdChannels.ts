import { unicodeText } from './psdLayers.ts';

export interface ExtraChannel {
  readonly name: string | null;
  /** `unknown` when the file has no record of how the channel is shown. */
  readonly role: 'spot' | 'alpha' | 'unknown';
}

const resourceIds = {
  resolution: 1005,
  names: 1006,
  oldDisplay: 1007,
  unicodeNames: 1045,
  version: 1057,
  display: 1077,
};
const spotKind = 2;

/** Names and roles of `count` channels past the colours. */
export function extraChannels(resources: ReadonlyMap<number, Uint8Array>, count: number): readonly ExtraChannel[] {
  const names = unicodeNames(resources.get(resourceIds.unicodeNames)) ?? pascalNames(resources.get(resourceIds.names));
  const kinds = displayKinds(resources);
  return Array.from({ length: count }, (_, i) => ({
    name: names[i] === undefined || names[i] === '' ? null : names[i],
    role: kinds[i] === undefined ? 'unknown' : kinds[i] === spotKind ? 'spot' : 'alpha',
  }));
}

/** Pixels per inch, 16.16 fixed point; the unit stored beside it is only how it is shown. */
export function psdResolution(resources: ReadonlyMap<number, Uint8Array>): { ppiX: number; ppiY: number } | null {
  const data = resources.get(resourceIds.resolution);
  if (data === undefined || data.length < 16) return null;
  const view = new DataView(data.buffer, data.byteOffset, data.byteLength);
  const ppiX = view.getUint32(0) / 65_536;
  const ppiY = view.getUint32(8) / 65_536;
  return ppiX > 0 && ppiY > 0 ? { ppiX, ppiY } : null;
}

/** False when the program that wrote the file left the merged picture out. */
export function hasMergedPicture(resources: ReadonlyMap<number, Uint8Array>): boolean {
  const data = resources.get(resourceIds.version);
  return data === undefined || data.length < 5 || data[4] !== 0;
}

function displayKinds(resources: ReadonlyMap<number, Uint8Array>): readonly number[] {
  const data = resources.get(resourceIds.display);
  // Records of 13 bytes after a version number; the older resource has records of 14. The kind is byte 12 of each.
  if (data !== undefined && data.length >= 17) return kindsIn(data, 4, 13);
  const old = resources.get(resourceIds.oldDisplay);
  return old === undefined ? [] : kindsIn(old, 0, 14);
}

function kindsIn(data: Uint8Array, start: number, size: number): readonly number[] {
  const kinds: number[] = [];
  for (let at = start; at + 13 <= data.length; at += size) kinds.push(data[at + 12]);
  return kinds;
}

function unicodeNames(data: Uint8Array | undefined): readonly string[] | null {
  if (data === undefined) return null;
  const view = new DataView(data.buffer, data.byteOffset, data.byteLength);
  const names: string[] = [];
  let at = 0;
  while (at + 4 <= data.length) {
    const units = view.getUint32(at);
    if (at + 4 + units * 2 > data.length) break;
    names.push(unicodeText(data, view, at));
    at += 4 + units * 2;
  }
  return names;
}

function pascalNames(data: Uint8Array | undefined): readonly string[] {
  const names: string[] = [];
  for (let at = 0; data !== undefined && at < data.length; at += 1 + data[at]) {
    names.push(new TextDecoder('latin1').decode(data.subarray(at + 1, at + 1 + data[at])));
  }
  return names;
}
