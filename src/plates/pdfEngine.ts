import type { WrappedPdfiumModule } from '@embedpdf/pdfium';
import type { DrawPass, PdfJob } from '../artwork/drawing.ts';
import { wordsPerRowFor } from '../raster/bitPlane.ts';
import { loadPdfium } from '../raster/pdfiumModule.ts';
import { bandRows } from './bandRows.ts';
import type { Engine } from './engine.ts';
import type { Strip } from './strip.ts';

/** Tones this close to clear are rounding noise of the renderer and count as clear. */
const clearLevels = 3;

// Flags of the renderer: text, pictures and paths with hard edges; and bitmap formats.
const noSmoothing = 0x1000 | 0x2000 | 0x4000;
const greyFormat = 1;
const colourFormat = 3;
const white = 0xffffffff;

/**
 * Draws a pass written by the PDF reader: one page whose units are the pixels of the grid. Strips of tones, or of bits
 * for a page that is one 1-bit picture.
 */
export const drawPdf: Engine = async function* (pass: DrawPass): AsyncGenerator<Strip> {
  if (pass.job.engine !== 'pdf') throw new Error('the PDF engine was given a job of another kind');
  const pdfium = await loadPdfium();
  const page = openPage(pdfium, pass.job);
  try {
    yield* drawBands(pdfium, page.page, pass, pass.job.bilevel === true);
  } finally {
    page.close();
  }
};

function openPage(pdfium: WrappedPdfiumModule, job: PdfJob): { page: number; close(): void } {
  const { bytes } = job;
  const memory = pdfium.pdfium as unknown as Heap;
  const pointer = memory.wasmExports.malloc(bytes.length);
  if (pointer === 0) throw new Error('the page does not fit into memory');
  memory.HEAPU8.set(bytes, pointer);
  const document = pdfium.FPDF_LoadMemDocument(pointer, bytes.length, '');
  const page = document === 0 ? 0 : pdfium.FPDF_LoadPage(document, job.pageIndex);
  const close = () => {
    if (page !== 0) pdfium.FPDF_ClosePage(page);
    if (document !== 0) pdfium.FPDF_CloseDocument(document);
    memory.wasmExports.free(pointer);
  };
  if (page === 0) {
    close();
    throw new Error('the page written for a pass could not be opened');
  }
  return { page, close };
}

interface Heap {
  readonly HEAPU8: Uint8Array;
  readonly wasmExports: { malloc(size: number): number; free(pointer: number): void };
}

function* drawBands(pdfium: WrappedPdfiumModule, page: number, pass: DrawPass, bilevel: boolean): Generator<Strip> {
  const { widthPx, heightPx } = pass.grid;
  const grey = pass.keys.length === 1;
  const height = Math.min(bandRows, heightPx);
  const { top: firstRow, bottom } = pass.rows ?? { top: 0, bottom: heightPx };
  const bitmap = pdfium.FPDFBitmap_CreateEx(widthPx, height, grey ? greyFormat : colourFormat, 0, 0);
  if (bitmap === 0) throw new Error('a band of the page does not fit into memory');
  const stridePx = 32 * wordsPerRowFor(widthPx);
  const channels = bilevel ? [] : pass.keys.map(() => new Uint8Array(stridePx * height));
  try {
    for (let top = firstRow; top < bottom; top += height) {
      const rows = Math.min(height, bottom - top);
      pdfium.FPDFBitmap_FillRect(bitmap, 0, 0, widthPx, height, white);
      pdfium.FPDF_RenderPageBitmap(bitmap, page, 0, -top, widthPx, heightPx, 0, noSmoothing);
      const stride = pdfium.FPDFBitmap_GetStride(bitmap);
      const start = pdfium.FPDFBitmap_GetBuffer(bitmap);
      // The heap is another array after it has grown, so it is asked for again.
      const pixels = (pdfium.pdfium as unknown as Heap).HEAPU8.subarray(start, start + stride * height);
      if (bilevel) yield { kind: 'bits', top, rows, words: packBits(pixels, stride, widthPx, rows) };
      else {
        for (const channel of channels) channel.fill(0);
        if (grey) readGreyTones(pixels, stride, widthPx, rows, stridePx, channels[0]);
        else readTones(pixels, stride, widthPx, rows, stridePx, channels);
        yield { kind: 'tones', top, rows, channels, stridePx };
      }
    }
  } finally {
    pdfium.FPDFBitmap_Destroy(bitmap);
  }
}

/** Shorter runs of one colour are written pixel by pixel. */
const shortRun = 12;

/** Opaque tones of each channel. Colour pixels lie as blue, green, red, unused; art is long runs of one colour. */
function readTones(
  pixels: Uint8Array,
  stride: number,
  widthPx: number,
  rows: number,
  stridePx: number,
  channels: readonly Uint8Array[],
): void {
  const colours = new Uint32Array(pixels.buffer, pixels.byteOffset, (stride * rows) >> 2);
  for (let row = 0; row < rows; row++) {
    const start = row * (stride >> 2);
    const end = start + widthPx;
    for (let from = start; from < end; ) {
      const colour = colours[from];
      let until = from + 1;
      while (until < end && colours[until] === colour) until++;
      if ((colour & 0xffffff) !== 0xffffff) {
        const to = row * stridePx + from - start;
        for (let channel = 0; channel < channels.length; channel++) {
          const tone = 255 - ((colour >>> (16 - 8 * channel)) & 255);
          if (tone > clearLevels) fillRun(channels[channel], tone, to, to + until - from);
        }
      }
      from = until;
    }
  }
}

function fillRun(tones: Uint8Array, tone: number, from: number, until: number): void {
  if (until - from > shortRun) tones.fill(tone, from, until);
  else for (let at = from; at < until; at++) tones[at] = tone;
}

function readGreyTones(
  pixels: Uint8Array,
  stride: number,
  widthPx: number,
  rows: number,
  stridePx: number,
  tones: Uint8Array,
): void {
  for (let row = 0; row < rows; row++) {
    const start = row * stride;
    const end = start + widthPx;
    for (let from = start; from < end; ) {
      const grey = pixels[from];
      let until = from + 1;
      while (until < end && pixels[until] === grey) until++;
      const to = row * stridePx + from - start;
      if (255 - grey > clearLevels) fillRun(tones, 255 - grey, to, to + until - from);
      from = until;
    }
  }
}

/** Grey pixels as packed bits, dark ones set. */
function packBits(pixels: Uint8Array, stride: number, widthPx: number, rows: number): Uint32Array {
  const wordsPerRow = wordsPerRowFor(widthPx);
  const words = new Uint32Array(wordsPerRow * rows);
  for (let row = 0; row < rows; row++) {
    const from = row * stride;
    for (let column = 0; column < widthPx; column++) {
      if (pixels[from + column] < 128) words[row * wordsPerRow + (column >> 5)] |= 1 << (column & 31);
    }
  }
  return words;
}
