/** Size and strips of a little-endian classic TIFF, for tests that want its coded bytes. */
export function readTiffTags(file: Uint8Array): {
  widthPx: number;
  heightPx: number;
  strips: { offset: number; length: number }[];
} {
  const view = new DataView(file.buffer, file.byteOffset, file.byteLength);
  if (view.getUint16(0, true) !== 0x4949 || view.getUint16(2, true) !== 42) throw new Error('not such a TIFF');
  const directory = view.getUint32(4, true);
  const tags = new Map<number, number[]>();
  for (let entry = 0; entry < view.getUint16(directory, true); entry++) {
    const at = directory + 2 + 12 * entry;
    const type = view.getUint16(at + 2, true);
    const count = view.getUint32(at + 4, true);
    const size = type === 3 ? 2 : 4;
    if (type !== 3 && type !== 4) continue;
    const from = count * size <= 4 ? at + 8 : view.getUint32(at + 8, true);
    const value = (k: number) => (type === 3 ? view.getUint16(from + 2 * k, true) : view.getUint32(from + 4 * k, true));
    tags.set(
      view.getUint16(at, true),
      Array.from({ length: count }, (_, k) => value(k)),
    );
  }
  const lengths = tags.get(279)!;
  return {
    widthPx: tags.get(256)![0],
    heightPx: tags.get(257)![0],
    strips: tags.get(273)!.map((offset, index) => ({ offset, length: lengths[index] })),
  };
}
