import type { DrawPass } from '../artwork/drawing.ts';
import { drawBitmap } from './bitmapEngine.ts';
import type { Engine } from './engine.ts';
import { drawPdf } from './pdfEngine.ts';
import type { DrawnPlate } from './plateBuilder.ts';
import { PlateBuilder } from './plateBuilder.ts';
import { drawSvg } from './svgEngine.ts';

const engines: Record<DrawPass['job']['engine'], Engine> = { bitmap: drawBitmap, pdf: drawPdf, svg: drawSvg };

/** Carries out a pass and packs what it draws: one drawn plate a key, in the order of `pass.keys`, of the rows asked for. */
export async function drawPass(pass: DrawPass): Promise<readonly DrawnPlate[]> {
  const heightPx = pass.rows === undefined ? pass.grid.heightPx : pass.rows.bottom - pass.rows.top;
  const builders = pass.keys.map(() => new PlateBuilder({ ...pass.grid, heightPx }));
  for await (const strip of engines[pass.job.engine](pass)) {
    for (const [channel, builder] of builders.entries()) {
      if (strip.kind === 'bits') builder.addBits(strip.words, strip.rows);
      else builder.addTones(strip.channels[channel], strip.rows, strip.stridePx);
    }
  }
  return builders.map((builder) => builder.finish());
}
