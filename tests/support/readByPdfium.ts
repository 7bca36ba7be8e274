import { loadPdfium } from '../../src/raster/pdfiumModule.ts';

interface Heap {
  readonly HEAPU8: Uint8Array;
  readonly wasmExports: { malloc(size: number): number; free(pointer: number): void };
}

export interface ReadPage {
  readonly text: string;
  readonly widthPx: number;
  readonly heightPx: number;
  /** Four bytes a pixel: blue, green, red and one that says nothing. */
  readonly pixels: Uint8Array;
}

const bgrx = 3;

/** The pages of a PDF as the program that browsers have for it reads and draws them, at so many pixels an inch. */
export async function readByPdfium(pdf: Uint8Array, ppi = 72): Promise<ReadPage[]> {
  const pdfium = await loadPdfium();
  const heap = () => pdfium.pdfium as unknown as Heap;
  const pointer = heap().wasmExports.malloc(pdf.length);
  heap().HEAPU8.set(pdf, pointer);
  const document = pdfium.FPDF_LoadMemDocument(pointer, pdf.length, '');
  if (document === 0) throw new Error('PDFium does not open it.');
  const pages: ReadPage[] = [];
  for (let index = 0; index < pdfium.FPDF_GetPageCount(document); index++) {
    const page = pdfium.FPDF_LoadPage(document, index);
    const textPage = pdfium.FPDFText_LoadPage(page);
    const count = pdfium.FPDFText_CountChars(textPage);
    let text = '';
    for (let at = 0; at < count; at++) text += String.fromCodePoint(pdfium.FPDFText_GetUnicode(textPage, at));
    pdfium.FPDFText_ClosePage(textPage);
    const [widthPx, heightPx] = [pdfium.FPDF_GetPageWidthF(page), pdfium.FPDF_GetPageHeightF(page)].map((points) =>
      Math.round((points * ppi) / 72),
    );
    const bitmap = pdfium.FPDFBitmap_CreateEx(widthPx, heightPx, bgrx, 0, 0);
    pdfium.FPDFBitmap_FillRect(bitmap, 0, 0, widthPx, heightPx, 0xffffffff);
    pdfium.FPDF_RenderPageBitmap(bitmap, page, 0, 0, widthPx, heightPx, 0, 0);
    const start = pdfium.FPDFBitmap_GetBuffer(bitmap);
    const stride = pdfium.FPDFBitmap_GetStride(bitmap);
    if (stride !== 4 * widthPx) throw new Error('The rows of the picture are padded.');
    pages.push({ text, widthPx, heightPx, pixels: heap().HEAPU8.slice(start, start + stride * heightPx) });
    pdfium.FPDFBitmap_Destroy(bitmap);
    pdfium.FPDF_ClosePage(page);
  }
  pdfium.FPDF_CloseDocument(document);
  heap().wasmExports.free(pointer);
  return pages;
}
