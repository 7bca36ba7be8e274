import { line, rectangle } from './shapes.ts';

/** 1, 2 or 5 times a power of ten, the next above; whole for counts. */
export function niceStep(rough: number, isCount = false): number {
  const power = 10 ** Math.floor(Math.log10(rough));
  const factor = [1, 2, 5, 10].find((candidate) => candidate * power >= rough - 1e-12) ?? 10;
  return isCount ? Math.max(1, factor * power) : factor * power;
}

/** Decimals that tell the ticks of a scale apart. */
export function stepDecimals(step: number): number {
  return Math.max(0, -Math.floor(Math.log10(step) + 1e-9));
}

/** Path data of the band between two positions, `half` above and below `y`, hatched: the side of a limit that fails. */
export function hatching(from: number, to: number, y: number, half: number): string {
  const spacing = 5;
  let d = rectangle(from, y - half, to - from, 2 * half);
  for (let start = from - 2 * half + spacing; start < to; start += spacing) {
    const x1 = Math.max(start, from);
    const x2 = Math.min(start + 2 * half, to);
    if (x2 <= x1) continue;
    d += line(x1, y + half - (x1 - start), x2, y + half - (x2 - start));
  }
  return d;
}
