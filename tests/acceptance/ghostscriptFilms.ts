import { mkdtempSync, readFileSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { runOracle } from '../support/oraclePrograms.ts';

/** Dot functions in PostScript; Ghostscript blackens high values of 1 − grey first. */
export const spotFunctions = {
  round: '{ dup mul exch dup mul add 1 exch sub }',
  elliptical: '{ dup mul 0.6 mul exch dup mul 1.4 mul add 2 div 1 exch sub }',
  line: '{ exch pop abs 1 exch sub }',
  diamond: '{ abs exch abs add 1 exch sub }',
  euclidean: '{ 180 mul cos exch 180 mul cos add 2 div }',
  square: '{ abs exch abs 2 copy lt { exch } if pop 1 exch sub }',
} as const;

export interface GhostscriptFilm {
  readonly tiff: Buffer;
  /** The ruling and angle Ghostscript realised, the angle counter-clockwise as seen. */
  readonly rulingLpi: number;
  readonly angleDeg: number;
}

/** A film of tones side by side as Ghostscript screens it, fax-coded; no transfer curve. */
export function screenedByGhostscript(
  spot: keyof typeof spotFunctions,
  rulingLpi: number,
  angleDeg: number,
  dpi: number,
  tones: readonly number[],
  patchMm: number,
): GhostscriptFilm {
  const folder = mkdtempSync(join(tmpdir(), 'screened-'));
  const patch = (patchMm * 72) / 25.4;
  const margin = 9;
  const body = tones
    .map((tone, k) => `${1 - tone} setgray ${margin + k * patch} ${margin} ${patch} ${patch} rectfill`)
    .join('\n');
  writeFileSync(
    join(folder, 'film.ps'),
    `%!PS
<< /PageSize [${2 * margin + tones.length * patch} ${2 * margin + patch}] >> setpagedevice
{} settransfer
/screening << /HalftoneType 1 /Frequency ${rulingLpi} /Angle ${angleDeg} /SpotFunction ${spotFunctions[spot]}
  /ActualFrequency 0 /ActualAngle 0 /AccurateScreens true >> def
screening sethalftone
{} settransfer
(realised ) print screening /ActualFrequency get 20 string cvs print ( ) print screening /ActualAngle get 20 string cvs print (\\n) print
${body}
showpage
`,
  );
  const said = runOracle(
    'gs',
    ['-q', '-dNOPAUSE', '-dBATCH', '-sDEVICE=tiffg4', `-r${dpi}`, '-sOutputFile=film.tif', 'film.ps'],
    folder,
  );
  const [, lpi, angle] = /realised (\S+) (\S+)/.exec(said) ?? [];
  return { tiff: readFileSync(join(folder, 'film.tif')), rulingLpi: Number(lpi), angleDeg: Number(angle) };
}
