import { mkdtempSync, readdirSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import sharp from 'sharp';
import { runOracle } from './oraclePrograms.ts';

/** Tones 0 = clear … 255 = opaque. */
export interface GreyPlate {
  readonly widthPx: number;
  readonly heightPx: number;
  readonly tones: Uint8Array;
}

/** Drawn at this many times the pitch and averaged: at plain resolution tiffsep fattens shapes by up to a pixel. */
const oversampling = 8;

/** The plates Ghostscript's tiffsep makes of the first page, by ink name; those without any ink are left out. */
export async function tiffsepPlates(file: string, dpi: number, password?: string): Promise<Map<string, GreyPlate>> {
  const folder = mkdtempSync(join(tmpdir(), 'plateglass-oracle-'));
  try {
    runOracle('gs', [
      '-q',
      '-dSAFER',
      '-dBATCH',
      '-dNOPAUSE',
      '-dUseCropBox',
      '-dFirstPage=1',
      '-dLastPage=1',
      '-dMaxSpots=12',
      ...(password === undefined ? [] : [`-sPDFPassword=${password}`]),
      '-sDEVICE=tiffsep',
      `-r${dpi * oversampling}`,
      `-dDownScaleFactor=${oversampling}`,
      '-o',
      join(folder, 'plate.tif'),
      file,
    ]);
    const plates = new Map<string, GreyPlate>();
    for (const name of readdirSync(folder)) {
      const ink = /^plate\((.*)\)\.tif$/s.exec(name)?.[1];
      if (ink === undefined) continue;
      const { data, info } = await sharp(join(folder, name))
        .toColourspace('b-w')
        .raw()
        .toBuffer({ resolveWithObject: true });
      const tones = data.map((value) => 255 - value);
      if (tones.some((tone) => tone > 0))
        plates.set(unescaped(ink), { widthPx: info.width, heightPx: info.height, tones });
    }
    return plates;
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}

/** Ghostscript writes bytes of a name that are no ASCII as %XX; those names are Latin-1 here. */
function unescaped(name: string): string {
  return name.replace(/%([0-9A-F]{2})/g, (_, hex: string) => String.fromCharCode(Number.parseInt(hex, 16)));
}

/** Share of the plate that is inked, tone by tone, 0–100. */
export function coveragePercent({ tones }: GreyPlate): number {
  let sum = 0;
  for (const tone of tones) sum += tone;
  return (100 * sum) / (255 * tones.length);
}

/**
 * Pixels of one plate that differ from the other by more than an edge one pixel off: outside the smallest and largest
 * tone of the other's 3 × 3 pixels around them by more than 8 of 255, in either direction.
 */
export function differingPixels(a: GreyPlate, b: GreyPlate): number {
  if (a.widthPx !== b.widthPx || a.heightPx !== b.heightPx)
    throw new Error(`${a.widthPx} × ${a.heightPx} against ${b.widthPx} × ${b.heightPx} pixels`);
  let differing = 0;
  for (let row = 0; row < a.heightPx; row++) {
    for (let column = 0; column < a.widthPx; column++) {
      if (isOutside(a, b, column, row) || isOutside(b, a, column, row)) differing++;
    }
  }
  return differing;
}

const tolerance = 8;

function isOutside(a: GreyPlate, b: GreyPlate, column: number, row: number): boolean {
  const tone = a.tones[row * a.widthPx + column];
  if (Math.abs(tone - b.tones[row * a.widthPx + column]) <= tolerance) return false;
  let least = 255;
  let most = 0;
  for (let r = Math.max(0, row - 1); r <= Math.min(a.heightPx - 1, row + 1); r++) {
    for (let c = Math.max(0, column - 1); c <= Math.min(a.widthPx - 1, column + 1); c++) {
      const other = b.tones[r * a.widthPx + c];
      if (other < least) least = other;
      if (other > most) most = other;
    }
  }
  return tone < least - tolerance || tone > most + tolerance;
}
