import type { DrawPass } from '../artwork/drawing.ts';

export type EngineName = DrawPass['job']['engine'];

/** Loads an engine, and for PDF the renderer, in the thread it is called in. */
export async function warmEngine(engine: EngineName): Promise<null> {
  if (engine === 'bitmap') await import('../plates/bitmapEngine.ts');
  else if (engine === 'svg') await import('../plates/svgEngine.ts');
  else {
    await import('../plates/pdfEngine.ts');
    await (await import('../raster/pdfiumModule.ts')).loadPdfium();
  }
  return null;
}
