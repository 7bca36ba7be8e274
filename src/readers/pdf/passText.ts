import { multiplied, stretch } from '../../geometry/matrix.ts';
import { written } from './contentBytes.ts';
import type { Paint } from './paint.ts';
import { type PassWriter, toPixels } from './passWriter.ts';
import type { TextLine } from './scene.ts';

/**
 * Writes a run of strings. Those whose paint has a colour are drawn; the others are written unseen, so that what
 * follows them stands where it belongs.
 */
export function writeTextLine(
  pass: PassWriter,
  line: TextLine,
  stroking: boolean,
  colours: ReadonlyMap<Paint, readonly number[]>,
): void {
  pass.out.text('BT\n');
  writeStrings(pass, line, stroking, colours);
  pass.out.text('ET\n');
}

/** Writes strings as a clip: one text object, so that all of them together are what is left. */
export function writeTextClip(pass: PassWriter, lines: readonly TextLine[]): void {
  pass.out.text('BT\n');
  for (const line of lines) writeStrings(pass, line, false, null);
  pass.out.text('ET\n');
}

function writeStrings(
  pass: PassWriter,
  line: TextLine,
  stroking: boolean,
  colours: ReadonlyMap<Paint, readonly number[]> | null,
): void {
  const { out } = pass;
  out.text(`${written(multiplied(toPixels(pass.grid), line.matrix))} Tm\n`);
  let mode = -1;
  for (const show of line.shows) {
    const paint = stroking ? show.strokePaint : show.fillPaint;
    const values = paint && colours?.get(paint);
    const wanted = !colours ? (show.mode === 3 ? 3 : 7) : !values ? 3 : stroking ? 1 : 0;
    if (values && stroking) {
      pass.useStroke(values);
      const scale = stretch(show.pen?.matrix ?? line.matrix).max / pass.grid.pitchXMm;
      const pen = show.pen;
      if (pen)
        out.text(
          `${written([pen.width * scale])} w ${pen.cap} J ${pen.join} j ${written([Math.max(1, pen.miterLimit)])} M [] 0 d\n`,
        );
    } else if (values) pass.useFill(values);
    if (wanted !== mode) out.text(`${wanted} Tr\n`);
    mode = wanted;
    out.text(`/${pass.fontName(show.font)} ${written([show.fontSize])} Tf `);
    out.text(
      `${written([show.charSpacing])} Tc ${written([show.wordSpacing])} Tw ${written([show.scalePercent])} Tz ${written([show.rise])} Ts\n[`,
    );
    for (const part of show.parts) {
      if (typeof part === 'number') out.text(`${written([part])} `);
      else out.hex(part);
    }
    out.text(']TJ\n');
  }
}
