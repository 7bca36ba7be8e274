/** Raw directories of a TIFF file: TIFF 6.0, section 2, and the 64-bit form of the same with offsets of eight bytes. */
export interface Directory {
  readonly littleEndian: boolean;
  /** The numbers of a tag, rationals divided out; empty when it is absent. */
  numbers(tag: number): readonly number[];
  /** The bytes of a tag as stored; empty when it is absent. */
  bytes(tag: number): Uint8Array;
  has(tag: number): boolean;
}

export const maxDirectories = 500;
const maxEntries = 4096;
const maxValues = 16_000_000;
const typeSizes = [0, 1, 1, 2, 4, 8, 1, 1, 2, 4, 8, 4, 8, 4, 0, 0, 8, 8, 8];

export class BrokenDirectory extends Error {
  override readonly name = 'BrokenDirectory';
}

interface Entry {
  readonly type: number;
  readonly count: number;
  readonly offset: number;
}

/**
 * Every directory of the main chain in order. Throws `BrokenDirectory` when the header or a directory makes no sense
 * or lies past the end of the bytes.
 */
export function readDirectories(bytes: Uint8Array): readonly Directory[] {
  if (bytes.length < 8) throw new BrokenDirectory('it ends within its header');
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  const littleEndian = bytes[0] === 0x49;
  const big = view.getUint16(2, littleEndian) === 43;
  const number = (at: number) => (big ? Number(view.getBigUint64(at, littleEndian)) : view.getUint32(at, littleEndian));
  const directories: Directory[] = [];
  const seen = new Set<number>();
  let at = guarded(() => number(big ? 8 : 4));
  while (at !== 0) {
    if (seen.has(at)) throw new BrokenDirectory('its directories run in a circle');
    if (directories.length >= maxDirectories) throw new BrokenDirectory(`it has more than ${maxDirectories} pages`);
    seen.add(at);
    const start = at;
    const next = guarded(() => {
      const count = big ? Number(view.getBigUint64(start, littleEndian)) : view.getUint16(start, littleEndian);
      if (count > maxEntries) throw new BrokenDirectory('a directory has too many entries');
      const entrySize = big ? 20 : 12;
      const first = start + (big ? 8 : 2);
      const entries = new Map<number, Entry>();
      for (let i = 0; i < count; i++) {
        const place = first + i * entrySize;
        const type = view.getUint16(place + 2, littleEndian);
        const values = big
          ? Number(view.getBigUint64(place + 4, littleEndian))
          : view.getUint32(place + 4, littleEndian);
        const size = (typeSizes[type] ?? 0) * values;
        const inline = place + (big ? 12 : 8);
        const offset = size <= (big ? 8 : 4) ? inline : number(inline);
        const tag = view.getUint16(place, littleEndian);
        if (size > 0 && !entries.has(tag)) entries.set(tag, { type, count: values, offset });
      }
      directories.push(directoryOf(bytes, view, littleEndian, entries));
      return number(first + count * entrySize);
    });
    at = next;
  }
  if (directories.length === 0) throw new BrokenDirectory('it has no page');
  return directories;
}

function guarded<T>(read: () => T): T {
  try {
    return read();
  } catch (error) {
    if (error instanceof RangeError) throw new BrokenDirectory('a directory lies past the end of the file');
    throw error;
  }
}

function directoryOf(
  bytes: Uint8Array,
  view: DataView,
  littleEndian: boolean,
  entries: ReadonlyMap<number, Entry>,
): Directory {
  return {
    littleEndian,
    has: (tag) => entries.has(tag),
    bytes: (tag) => {
      const entry = entries.get(tag);
      if (entry === undefined) return new Uint8Array(0);
      const end = entry.offset + entry.count * typeSizes[entry.type];
      if (end > bytes.length) throw new BrokenDirectory(`tag ${tag} lies past the end of the file`);
      return bytes.slice(entry.offset, end);
    },
    numbers: (tag) => {
      const entry = entries.get(tag);
      if (entry === undefined) return [];
      if (entry.count > maxValues) throw new BrokenDirectory(`tag ${tag} has too many values`);
      return guarded(() => readNumbers(view, littleEndian, entry));
    },
  };
}

function readNumbers(view: DataView, little: boolean, entry: Entry): readonly number[] {
  const size = typeSizes[entry.type];
  if (entry.offset + size * entry.count > view.byteLength) throw new RangeError('past the end');
  const values: number[] = [];
  for (let i = 0; i < entry.count; i++) values.push(readNumber(view, little, entry.type, entry.offset + i * size));
  return values;
}

function readNumber(view: DataView, little: boolean, type: number, at: number): number {
  switch (type) {
    case 3:
      return view.getUint16(at, little);
    case 4:
    case 13:
      return view.getUint32(at, little);
    case 5:
      return view.getUint32(at, little) / view.getUint32(at + 4, little);
    case 6:
      return view.getInt8(at);
    case 8:
      return view.getInt16(at, little);
    case 9:
      return view.getInt32(at, little);
    case 10:
      return view.getInt32(at, little) / view.getInt32(at + 4, little);
    case 11:
      return view.getFloat32(at, little);
    case 12:
      return view.getFloat64(at, little);
    case 16:
    case 17:
    case 18:
      return Number(view.getBigUint64(at, little));
    default:
      return view.getUint8(at);
  }
}
