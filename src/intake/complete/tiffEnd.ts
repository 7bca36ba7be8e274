import type { ByteSource } from '../../artwork/byteSource.ts';
import type { Completeness } from './completeness.ts';
import { readWhole } from './completeness.ts';

const typeSizes = [0, 1, 1, 2, 4, 8, 1, 1, 2, 4, 8, 4, 8, 4, 0, 0, 8, 8, 8];
/** Offsets and byte counts, of strips and of tiles. */
const places = [
  [273, 279],
  [324, 325],
] as const;
const maxDirectories = 500;
const maxEntries = 4096;
const maxPlaces = 4_000_000;

interface Form {
  readonly little: boolean;
  /** Offsets of eight bytes. */
  readonly big: boolean;
}

/** Every directory, its values, and every strip and tile it names lie inside the file (TIFF 6.0, sections 2, 3 and 15). */
export async function tiffEnd(source: ByteSource): Promise<Completeness> {
  const head = await readWhole(source, 0, 8);
  if (head === null) return 'short';
  const little = head.getUint8(0) === 0x49;
  const form = { little, big: head.getUint16(2, little) === 43 };
  const start = form.big ? await readWhole(source, 8, 8) : head;
  if (start === null) return 'short';
  let told = true;
  let at = form.big ? Number(start.getBigUint64(0, little)) : head.getUint32(4, little);
  // Some writers put the place of the directory in last.
  if (at === 0) return 'short';
  const seen = new Set<number>();
  while (at !== 0 && !seen.has(at) && seen.size < maxDirectories) {
    seen.add(at);
    const end = await directoryEnd(source, at, form);
    if (typeof end === 'string') return end;
    told &&= end.valuesInside;
    at = end.next;
  }
  return told ? 'complete' : 'unknown';
}

interface DirectoryEnd {
  /** The place of the next directory, 0 for none. */
  readonly next: number;
  /** The values of all its tags lie in the file. Some programs write tags that never do. */
  readonly valuesInside: boolean;
}

async function directoryEnd(source: ByteSource, at: number, form: Form): Promise<DirectoryEnd | 'short' | 'unknown'> {
  const countSize = form.big ? 8 : 2;
  const entrySize = form.big ? 20 : 12;
  const countBytes = await readWhole(source, at, countSize);
  if (countBytes === null) return 'short';
  const count = form.big ? Number(countBytes.getBigUint64(0, form.little)) : countBytes.getUint16(0, form.little);
  if (count > maxEntries) return 'unknown';
  const entries = await readWhole(source, at + countSize, count * entrySize + (form.big ? 8 : 4));
  if (entries === null) return 'short';
  const find = (tag: number) => {
    for (let i = 0; i < count; i++) if (entries.getUint16(i * entrySize, form.little) === tag) return i * entrySize;
    return null;
  };
  for (const [offsetTag, countTag] of places) {
    const offsetEntry = find(offsetTag);
    const countEntry = find(countTag);
    if (offsetEntry === null || countEntry === null) continue;
    const offsets = await numbersOf(source, entries, offsetEntry, form);
    const counts = await numbersOf(source, entries, countEntry, form);
    if (typeof offsets === 'string') return offsets;
    if (typeof counts === 'string') return counts;
    for (let i = 0; i < Math.min(offsets.length, counts.length); i++)
      if (offsets[i] + counts[i] > source.sizeBytes) return 'short';
  }
  const last = count * entrySize;
  return {
    next: form.big ? Number(entries.getBigUint64(last, form.little)) : entries.getUint32(last, form.little),
    valuesInside: valuesEnd(entries, count, form) <= source.sizeBytes,
  };
}

/** Where the last value ends that does not stand in its entry itself. */
function valuesEnd(entries: DataView, count: number, { little, big }: Form): number {
  let end = 0;
  for (let at = 0; at < count * (big ? 20 : 12); at += big ? 20 : 12) {
    const values = big ? Number(entries.getBigUint64(at + 4, little)) : entries.getUint32(at + 4, little);
    const bytes = values * (typeSizes[entries.getUint16(at + 2, little)] ?? 0);
    if (bytes <= (big ? 8 : 4)) continue;
    end = Math.max(
      end,
      bytes + (big ? Number(entries.getBigUint64(at + 12, little)) : entries.getUint32(at + 8, little)),
    );
  }
  return end;
}

async function numbersOf(
  source: ByteSource,
  entries: DataView,
  at: number,
  { little, big }: Form,
): Promise<Float64Array | 'short' | 'unknown'> {
  const size = typeSizes[entries.getUint16(at + 2, little)] ?? 0;
  const count = big ? Number(entries.getBigUint64(at + 4, little)) : entries.getUint32(at + 4, little);
  if ((size !== 2 && size !== 4 && size !== 8) || count > maxPlaces) return 'unknown';
  const inline = at + (big ? 12 : 8);
  let view: DataView | null = new DataView(entries.buffer, entries.byteOffset + inline);
  if (size * count > (big ? 8 : 4)) {
    const offset = big ? Number(view.getBigUint64(0, little)) : view.getUint32(0, little);
    view = await readWhole(source, offset, size * count);
    if (view === null) return 'short';
  }
  const numbers = new Float64Array(count);
  for (let i = 0; i < count; i++) {
    if (size === 2) numbers[i] = view.getUint16(2 * i, little);
    else if (size === 4) numbers[i] = view.getUint32(4 * i, little);
    else numbers[i] = Number(view.getBigUint64(8 * i, little));
  }
  return numbers;
}
