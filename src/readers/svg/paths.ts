import svgpath from 'svgpath';
import type { BoxMm } from '../../geometry/box.ts';
import { type Matrix, transformed } from '../../geometry/matrix.ts';

/** A path of absolute M, L, Q, C and Z only. */
export type PathStep = readonly [command: 'M' | 'L' | 'Q' | 'C' | 'Z', ...numbers: number[]];
export type Path = readonly PathStep[];

/** Reads path data (SVG 2, 9.3); after an error the part before it counts, as the standard asks. */
export function parsePath(d: string): { readonly path: Path; readonly broken: boolean } {
  const parsed = svgpath(d);
  const broken = (parsed as unknown as { err: string }).err !== '';
  const path: PathStep[] = [];
  let startX = 0;
  let startY = 0;
  parsed
    .abs()
    .unshort()
    .unarc()
    .iterate((segment, _index, x, y) => {
      const [command, ...numbers] = segment as [string, ...number[]];
      if (!numbers.every(Number.isFinite)) return;
      if (path.at(-1)?.[0] === 'Z' && command !== 'M' && command !== 'Z') path.push(['M', startX, startY]);
      if (command === 'H') path.push(['L', numbers[0], y]);
      else if (command === 'V') path.push(['L', x, numbers[0]]);
      else path.push([command, ...numbers] as unknown as PathStep);
      if (command === 'M') [startX, startY] = numbers;
    });
  return { path, broken };
}

export function transformedPath(path: Path, matrix: Matrix): Path {
  return path.map((step) => {
    const result: number[] = [];
    for (let index = 1; index < step.length; index += 2) {
      result.push(...transformed(matrix, step[index] as number, step[index + 1] as number));
    }
    return [step[0], ...result] as unknown as PathStep;
  });
}

const texts = new WeakMap<Path, string>();

/** Path data with nine significant figures: far below a thousandth of a pixel on any film. */
export function pathText(path: Path): string {
  let text = texts.get(path);
  if (text === undefined) {
    text = path.map(([command, ...numbers]) => command + numbers.map(shortNumber).join(' ')).join('');
    texts.set(path, text);
  }
  return text;
}

export function shortNumber(value: number): string {
  return String(Number(value.toPrecision(9)));
}

/** The box of the curve itself (not of its control points), or null for a path that goes nowhere. */
export function boxOfPath(path: Path, matrix: Matrix): BoxMm | null {
  let minX = Number.POSITIVE_INFINITY;
  let minY = Number.POSITIVE_INFINITY;
  let maxX = Number.NEGATIVE_INFINITY;
  let maxY = Number.NEGATIVE_INFINITY;
  const add = (x: number, y: number) => {
    minX = Math.min(minX, x);
    maxX = Math.max(maxX, x);
    minY = Math.min(minY, y);
    maxY = Math.max(maxY, y);
  };
  let lastX = 0;
  let lastY = 0;
  for (const step of transformedPath(path, matrix)) {
    if (step[0] === 'Z') continue;
    const numbers = step.slice(1) as number[];
    const endX = numbers[numbers.length - 2];
    const endY = numbers[numbers.length - 1];
    if (step[0] !== 'M' || path.length > 1) add(endX, endY);
    if (step[0] === 'C' || step[0] === 'Q') {
      const cubic = step[0] === 'C' ? numbers : cubicOf(lastX, lastY, numbers);
      for (const t of [
        ...turningPoints(lastX, cubic[0], cubic[2], cubic[4]),
        ...turningPoints(lastY, cubic[1], cubic[3], cubic[5]),
      ]) {
        add(cubicAt(lastX, cubic[0], cubic[2], cubic[4], t), cubicAt(lastY, cubic[1], cubic[3], cubic[5], t));
      }
    }
    lastX = endX;
    lastY = endY;
  }
  return minX > maxX ? null : { xMm: minX, yMm: minY, widthMm: maxX - minX, heightMm: maxY - minY };
}

/** A quadratic curve from a point as the cubic it is. */
export function cubicOf(x0: number, y0: number, [x1, y1, x2, y2]: readonly number[]): number[] {
  return [
    x0 + (2 * (x1 - x0)) / 3,
    y0 + (2 * (y1 - y0)) / 3,
    x2 + (2 * (x1 - x2)) / 3,
    y2 + (2 * (y1 - y2)) / 3,
    x2,
    y2,
  ];
}

function cubicAt(p0: number, p1: number, p2: number, p3: number, t: number): number {
  const u = 1 - t;
  return u * u * u * p0 + 3 * u * u * t * p1 + 3 * u * t * t * p2 + t * t * t * p3;
}

/** Parameters inside the curve at which one coordinate turns. */
function turningPoints(p0: number, p1: number, p2: number, p3: number): number[] {
  const a = -p0 + 3 * p1 - 3 * p2 + p3;
  const b = 2 * (p0 - 2 * p1 + p2);
  const c = p1 - p0;
  const roots: number[] = [];
  if (Math.abs(a) < 1e-12 * (Math.abs(b) + Math.abs(c))) {
    if (b !== 0) roots.push(-c / b);
  } else {
    const root = b * b - 4 * a * c;
    if (root >= 0) roots.push((-b + Math.sqrt(root)) / (2 * a), (-b - Math.sqrt(root)) / (2 * a));
  }
  return roots.filter((t) => t > 0 && t < 1);
}

/**
 * The sub-paths as chains of straight pieces `[x0, y0, x1, y1, …]`, closed ones ending where they began. No point of
 * the curve lies further than `tolerance` from its chord: the error of n equal steps is at most |B″|max / (8 n²).
 */
export function flattenPath(path: Path, matrix: Matrix, tolerance: number): number[][] {
  const chains: number[][] = [];
  let chain: number[] = [];
  const close = () => {
    if (chain.length > 2) chains.push(chain);
  };
  for (const step of transformedPath(path, matrix)) {
    const numbers = step.slice(1) as number[];
    if (step[0] === 'M') {
      close();
      chain = [numbers[0], numbers[1]];
    } else if (step[0] === 'Z') {
      if (chain.length > 2 && (chain[0] !== chain.at(-2) || chain[1] !== chain.at(-1))) chain.push(chain[0], chain[1]);
      close();
      chain = chain.length > 1 ? [chain[0], chain[1]] : [];
    } else if (step[0] === 'L') chain.push(numbers[0], numbers[1]);
    else {
      const x0 = chain.at(-2) ?? numbers[0];
      const y0 = chain.at(-1) ?? numbers[1];
      const [x1, y1, x2, y2, x3, y3] = step[0] === 'C' ? numbers : cubicOf(x0, y0, numbers);
      const bend = Math.max(
        Math.hypot(x0 - 2 * x1 + x2, y0 - 2 * y1 + y2),
        Math.hypot(x1 - 2 * x2 + x3, y1 - 2 * y2 + y3),
      );
      const steps = Math.min(1000, Math.max(1, Math.ceil(Math.sqrt((6 * bend) / (8 * tolerance)))));
      for (let index = 1; index <= steps; index++) {
        const t = index / steps;
        chain.push(cubicAt(x0, x1, x2, x3, t), cubicAt(y0, y1, y2, y3, t));
      }
    }
  }
  close();
  return chains;
}

/** Sum of the areas inside the sub-paths, whatever way they turn; 0 for lines that enclose nothing. */
export function enclosedArea(path: Path, matrix: Matrix): number {
  let total = 0;
  for (const chain of flattenPath(path, matrix, 0.01)) {
    let area = 0;
    for (let index = 0; index < chain.length; index += 2) {
      const next = (index + 2) % chain.length;
      area +=
        (chain[index] - chain[0]) * (chain[next + 1] - chain[1]) -
        (chain[next] - chain[0]) * (chain[index + 1] - chain[1]);
    }
    total += Math.abs(area) / 2;
  }
  return total;
}

/** Whether the path is one rectangle along the axes after the transform: its box is then its shape. */
export function isUprightRectangle(path: Path, matrix: Matrix): boolean {
  if (path.some(([command]) => command === 'Q' || command === 'C')) return false;
  if (path.filter(([command]) => command === 'M').length !== 1) return false;
  const points = transformedPath(path, matrix).filter(([command]) => command !== 'Z') as unknown as [
    string,
    number,
    number,
  ][];
  const box = boxOfPath(path, matrix);
  if (box === null || points.length < 4 || points.length > 5) return false;
  const slack = 1e-9 * (1 + box.widthMm + box.heightMm);
  const near = (a: number, b: number) => Math.abs(a - b) <= slack;
  const corner = ([, x, y]: [string, number, number]) =>
    (near(x, box.xMm) ? 0 : near(x, box.xMm + box.widthMm) ? 1 : 9) +
    (near(y, box.yMm) ? 0 : near(y, box.yMm + box.heightMm) ? 2 : 90);
  const corners = points.map(corner);
  if (corners.some((value) => value > 3) || new Set(corners).size !== 4) return false;
  if (points.length === 5 && corners[4] !== corners[0]) return false;
  return corners.slice(0, 4).every((value, index) => [1, 2].includes(value ^ corners[(index + 1) % 4]));
}
