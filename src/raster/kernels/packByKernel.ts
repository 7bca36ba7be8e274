import { bandRows, type Kernels, Layout } from './kernelModule.ts';

/** Rows of a drawn picture: ink is dark on white, grey pixels of one byte or colour ones of four (blue, green, red, unused). */
export interface DrawnRows {
  readonly pixels: Uint8Array;
  readonly stridePx: number;
  readonly widthPx: number;
  readonly rows: number;
  readonly colour: boolean;
}

/** Packed rows of one channel; `mixed`: some tones are neither clear nor opaque, and the bits are not all there is. */
export interface PackedRows {
  readonly words: Uint32Array;
  readonly mixed: boolean;
}

/** Packs grey, or red, green and blue, each pixel opaque from half tone upwards. */
export function packByKernel(kernels: Kernels, drawn: DrawnRows, wordsPerRow: number): PackedRows[] {
  const { pixels, stridePx, widthPx, rows, colour } = drawn;
  const strideBytes = stridePx * (colour ? 4 : 1);
  const channels = colour ? 3 : 1;
  const channelBytes = 4 * wordsPerRow * bandRows;
  const layout = new Layout(kernels);
  const scratch = layout.take(64);
  const source = layout.take(strideBytes * bandRows);
  const target = layout.take(channels * channelBytes);
  const memory = new Uint8Array(kernels.memory.buffer);
  const packed = Array.from({ length: channels }, () => new Uint32Array(wordsPerRow * rows));
  let mixed = 0;
  for (let top = 0; top < rows; top += bandRows) {
    const here = Math.min(bandRows, rows - top);
    memory.set(pixels.subarray(top * strideBytes, (top + here) * strideBytes), source);
    mixed |= kernels.packPixels(
      source,
      strideBytes,
      widthPx,
      here,
      colour ? 1 : 0,
      target,
      wordsPerRow,
      channelBytes,
      scratch,
    );
    packed.forEach((words, channel) => {
      const band = new Uint32Array(kernels.memory.buffer, target + channel * channelBytes, wordsPerRow * here);
      words.set(band, top * wordsPerRow);
    });
  }
  return packed.map((words, channel) => ({ words, mixed: ((mixed >> channel) & 1) === 1 }));
}
