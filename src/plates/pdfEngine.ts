import type { WrappedPdfiumModule } from '@embedpdf/pdfium';
import type { DrawPass, PdfJob } from '../artwork/drawing.ts';
import { loadPdfium } from '../raster/pdfiumModule.ts';
import { tileSidePx } from '../raster/tonePlane.ts';
import { bandRows } from './bandRows.ts';
import { drawnChannels } from './drawnChannels.ts';
import type { Engine } from './engine.ts';
import type { Strip } from './strip.ts';

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
  const colour = pass.keys.length > 1;
  const height = Math.min(bandRows, heightPx);
  const { top: firstRow, bottom } = pass.rows ?? { top: 0, bottom: heightPx };
  const bitmap = pdfium.FPDFBitmap_CreateEx(widthPx, height, colour ? colourFormat : greyFormat, 0, 0);
  if (bitmap === 0) throw new Error('a band of the page does not fit into memory');
  try {
    for (let top = firstRow; top < bottom; top += height) {
      const rows = Math.min(height, bottom - top);
      pdfium.FPDFBitmap_FillRect(bitmap, 0, 0, widthPx, height, white);
      pdfium.FPDF_RenderPageBitmap(bitmap, page, 0, -top, widthPx, heightPx, 0, noSmoothing);
      const stride = pdfium.FPDFBitmap_GetStride(bitmap);
      const start = pdfium.FPDFBitmap_GetBuffer(bitmap);
      // Rows of one row of tiles at a time, so that tones are held only where there are any.
      for (let done = 0; done < rows; done += tileSidePx) {
        const here = Math.min(tileSidePx, rows - done);
        const first = start + done * stride;
        // The heap is another array after it has grown, which another pass may have brought about meanwhile.
        const pixels = (pdfium.pdfium as unknown as Heap).HEAPU8.subarray(first, first + here * stride);
        const stridePx = colour ? stride >> 2 : stride;
        const drawn = { pixels, stridePx, widthPx, rows: here, colour };
        yield { top: top + done, rows: here, channels: drawnChannels(drawn, pass.keys.length, bilevel) };
      }
    }
  } finally {
    pdfium.FPDFBitmap_Destroy(bitmap);
  }
}
