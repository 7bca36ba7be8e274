import { readFileSync } from 'node:fs';

/** A picture as PBM (P4) or PGM (P5) stores it, as tones: 255 = black, 0 = white. */
export interface NetpbmPicture {
  readonly widthPx: number;
  readonly heightPx: number;
  readonly tones: Uint8Array;
}

/** Reads raw PBM and 8-bit PGM files (netpbm formats of the same name). */
export function readNetpbm(path: string): NetpbmPicture {
  const bytes = readFileSync(path);
  const kind = bytes.toString('latin1', 0, 2);
  const fields = kind === 'P4' ? 2 : 3;
  const values: number[] = [];
  let at = 2;
  while (values.length < fields) {
    const rest = bytes.toString('latin1', at, at + 200);
    const match = /^(?:\s+|#[^\n]*\n)*(\d+)/.exec(rest)!;
    values.push(Number(match[1]));
    at += match[0].length;
  }
  at++;
  const [widthPx, heightPx] = values;
  const tones = new Uint8Array(widthPx * heightPx);
  const rowBytes = (widthPx + 7) >> 3;
  for (let row = 0; row < heightPx; row++) {
    for (let column = 0; column < widthPx; column++) {
      const i = row * widthPx + column;
      if (kind === 'P4') tones[i] = bytes[at + row * rowBytes + (column >> 3)] & (0x80 >> (column & 7)) ? 255 : 0;
      else tones[i] = 255 - bytes[at + i];
    }
  }
  return { widthPx, heightPx, tones };
}
