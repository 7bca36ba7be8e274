import { readFile } from 'node:fs/promises';
import { createRequire } from 'node:module';
import { init, type WrappedPdfiumModule } from '@embedpdf/pdfium';

let loading: Promise<WrappedPdfiumModule> | null = null;

/** The page renderer, loaded once a process (or worker). Its memory grows with the largest page drawn and stays. */
export function loadPdfium(): Promise<WrappedPdfiumModule> {
  loading ??= load();
  return loading;
}

async function load(): Promise<WrappedPdfiumModule> {
  const path = createRequire(import.meta.url).resolve('@embedpdf/pdfium/pdfium.wasm');
  const file = await readFile(path);
  const wasmBinary = file.buffer.slice(file.byteOffset, file.byteOffset + file.byteLength) as ArrayBuffer;
  const module = await init({ wasmBinary });
  module.PDFiumExt_Init();
  return module;
}
