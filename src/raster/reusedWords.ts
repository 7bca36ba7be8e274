/** As many words as a plate of a gigapixel takes; of more, nothing is kept for the next call. */
const mostKept = 32_000_000;

/**
 * Memory that a function working on whole plates or large parts of them uses again when it is next called, as fresh
 * memory costs more to be had than most of what is done with it. For functions that run to their end without a pause,
 * one of these for each.
 */
export class ReusedWords {
  #words = new Uint32Array(0);

  /** So many words that may hold anything; those given out before are not to be used any more. */
  take(length: number): Uint32Array {
    if (length <= this.#words.length) return this.#words.subarray(0, length);
    const words = new Uint32Array(length);
    if (length <= mostKept) this.#words = words;
    return words;
  }
}
