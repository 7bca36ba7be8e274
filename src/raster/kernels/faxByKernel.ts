import { DamagedPixels } from '../bitmap/damagedPixels.ts';
import type { FaxKind, FaxRows } from '../bitmap/decodeFax.ts';
import { blackRuns, modes, whiteRuns } from '../bitmap/faxCodes.ts';
import { wordsPerRowFor } from '../bitPlane.ts';
import { bandRows, type Kernels, Layout } from './kernelModule.ts';

const codings: Record<FaxKind, number> = { plain: 0, group3: 1, group4: 2 };

/** `FaxDecoder`, on kernels whose memory is used for nothing else until it is done. */
export class FaxByKernel implements FaxRows {
  readonly #kernels: Kernels;
  readonly #wordsPerRow: number;
  readonly #band: number;

  constructor(kernels: Kernels, bytes: Uint8Array, widthPx: number, kind: FaxKind, twoDimensional: boolean) {
    this.#kernels = kernels;
    this.#wordsPerRow = wordsPerRowFor(widthPx);
    const layout = new Layout(kernels);
    const tables = layout.take(4 * (whiteRuns.length + blackRuns.length + modes.length));
    const scratch = layout.take(kernels.faxScratchBytes(widthPx));
    this.#band = layout.take(4 * this.#wordsPerRow * bandRows);
    const data = layout.take(bytes.length + 8);
    const memory = new Int32Array(kernels.memory.buffer);
    memory.set(whiteRuns, tables >> 2);
    memory.set(blackRuns, (tables >> 2) + whiteRuns.length);
    memory.set(modes, (tables >> 2) + whiteRuns.length + blackRuns.length);
    const target = new Uint8Array(kernels.memory.buffer);
    target.set(bytes, data);
    target.fill(0, data + bytes.length, data + bytes.length + 8);
    kernels.beginFax(data, bytes.length, widthPx, codings[kind], twoDimensional ? 1 : 0, tables, scratch);
  }

  decodeRows(rows: number, words: Uint32Array, offset: number): void {
    for (let done = 0; done < rows; done += bandRows) {
      const count = Math.min(bandRows, rows - done);
      const band = new Uint32Array(this.#kernels.memory.buffer, this.#band, count * this.#wordsPerRow);
      band.fill(0);
      const decoded = this.#kernels.faxRows(count, this.#band, 4 * this.#wordsPerRow);
      if (decoded < 0) this.#fail(decoded);
      words.set(band, offset + done * this.#wordsPerRow);
    }
  }

  #fail(code: number): never {
    if (code === -2) throw new DamagedPixels('a coded row is longer than the film is wide');
    const truncated = code === -1 || this.#kernels.faxIsAtEnd() === 1;
    throw new DamagedPixels(truncated ? 'its coded rows end too early' : 'a coded row makes no sense', truncated);
  }
}
