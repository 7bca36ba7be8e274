/** A tone, 0 … 1, as 32-bit floating point is less than this as whole number, and in the order of the tones. */
const steps = 2 ** 30;
/** Bits left off for classes of tones that are counted. */
const classShift = 14;

/** The lightest and the darkest of many cells, in order; of equal tones in the order of the cells. */
export class RankedTones {
  readonly lightest: Int32Array;
  /** From the darkest on. */
  readonly darkest: Int32Array;
  readonly #count: number;

  /**
   * @param tones by cells, 0 … 1
   * @param share of the cells that is put in order at each end, at least
   */
  constructor(cells: Int32Array, tones: Float32Array, share: number) {
    const bits = new Int32Array(tones.buffer, tones.byteOffset, tones.length);
    const counts = new Uint32Array((steps >> classShift) + 1);
    for (let k = 0; k < cells.length; k++) counts[bits[cells[k]] >> classShift]++;
    const wanted = Math.min(cells.length, Math.floor(share * cells.length) + 2);
    let [light, lights] = [-1, 0];
    while (lights < wanted) lights += counts[++light];
    let [dark, darks] = [counts.length, 0];
    while (darks < wanted) darks += counts[--dark];
    this.#count = cells.length;
    this.lightest = inOrder(cells, bits, 0, light, lights);
    this.darkest = inOrder(cells, bits, dark, counts.length, darks).reverse();
  }

  /** The cell of a rank, 0 the lightest, among those put in order; null where there is none. */
  cellAt(rank: number): number | null {
    return this.lightest[rank] ?? this.darkest[this.#count - 1 - rank] ?? null;
  }
}

/** The cells, so many, whose tones are of the classes from the first to the last. */
function inOrder(cells: Int32Array, bits: Int32Array, first: number, last: number, count: number): Int32Array {
  const keys = new Float64Array(count);
  let length = 0;
  for (let k = 0; k < cells.length; k++) {
    const own = bits[cells[k]];
    if (own >> classShift >= first && own >> classShift <= last) keys[length++] = own * cells.length + k;
  }
  keys.sort();
  const ordered = new Int32Array(count);
  for (let k = 0; k < count; k++) ordered[k] = cells[keys[k] % cells.length];
  return ordered;
}
