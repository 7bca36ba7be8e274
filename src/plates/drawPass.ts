import type { DrawPass } from '../artwork/drawing.ts';
import type { Engine } from './engine.ts';
import type { DrawnPlate } from './plateBuilder.ts';
import { PlateBuilder } from './plateBuilder.ts';

/** Engines are loaded when a pass asks for them. */
const engines: Record<DrawPass['job']['engine'], () => Promise<Engine>> = {
  bitmap: async () => (await import('./bitmapEngine.ts')).drawBitmap,
  pdf: async () => (await import('./pdfEngine.ts')).drawPdf,
  svg: async () => (await import('./svgEngine.ts')).drawSvg,
};

/** Carries out a pass and packs what it draws: one drawn plate a key, in the order of `pass.keys`, of the rows asked for. */
export async function drawPass(pass: DrawPass): Promise<readonly DrawnPlate[]> {
  const heightPx = pass.rows === undefined ? pass.grid.heightPx : pass.rows.bottom - pass.rows.top;
  const builders = pass.keys.map(() => new PlateBuilder({ ...pass.grid, heightPx }, pass.job.engine !== 'bitmap'));
  const draw = await engines[pass.job.engine]();
  for await (const strip of draw(pass)) {
    for (const [channel, builder] of builders.entries()) {
      const part = strip.channels[channel];
      if (part.kind === 'bits') builder.addBits(part.words, strip.rows);
      else builder.addTones(part.tones, strip.rows, part.stridePx);
    }
  }
  return builders.map((builder) => builder.finish());
}
