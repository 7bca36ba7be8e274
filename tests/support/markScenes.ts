import type { BoxMm } from '../../src/geometry/box.ts';
import type { Plate } from '../../src/plates/plate.ts';
import type { BitPlane } from '../../src/raster/bitPlane.ts';
import { bitAt, createBitPlane } from '../../src/raster/bitPlane.ts';
import { tileSidePx } from '../../src/raster/tonePlane.ts';
import { boxPart, discPart, drawParts, type Part } from './marksPlates.ts';
import { both, circle, either, gridOf, outside, rectangle, type Shape } from './overlapPlates.ts';
import { seededRandom } from './seededRandom.ts';

/**
 * Films of marks and art whose every measure is known, drawn from a seed: the design, size and place of the marks, how
 * each film was moved, turned and stretched, and what became of each mark on it.
 */
export const sceneDesigns = [
  'cross',
  'ring',
  'thickRing',
  'doubleRing',
  'gappedRing',
  'openCross',
  'circled',
  'whiteCross',
  'whiteCrossDisc',
  'quarters',
  'quadrants',
  'star',
  'quarteredDisc',
] as const;
export type SceneDesign = (typeof sceneDesigns)[number];

/** A mark about its own middle, as wide as `size`. */
function designShape(design: SceneDesign, size: number, line: number): Shape {
  const cross = either(rectangle(0, 0, size, line), rectangle(0, 0, line, size));
  const ring = (radius: number, weight: number): Shape =>
    both(circle(0, 0, radius + weight / 2), outside(circle(0, 0, radius - weight / 2)));
  const radius = 0.3 * size;
  const disc = circle(0, 0, radius);
  switch (design) {
    case 'cross':
      return cross;
    case 'ring':
      return either(cross, ring(radius, line));
    case 'thickRing':
      return either(cross, ring(radius, Math.min(2.6 * line, 0.12 * size)));
    case 'doubleRing':
      return either(cross, ring(0.4 * size, line), ring(0.2 * size, line));
    case 'gappedRing': {
      // The ring stops short of the arms.
      const band = either(rectangle(0, 0, size, 0.14 * size), rectangle(0, 0, 0.14 * size, size));
      return either(cross, both(ring(0.36 * size, line), outside(band)));
    }
    case 'openCross':
      // The arms stop short of the middle.
      return either(both(cross, outside(circle(0, 0, 0.12 * size))), ring(radius, line));
    case 'circled':
      return either(both(cross, circle(0, 0, size / 2)), ring(size / 2 - line / 2, line));
    case 'whiteCross':
      return either(both(disc, outside(cross)), both(cross, outside(disc)));
    case 'whiteCrossDisc':
      return both(circle(0, 0, size / 2), outside(cross));
    case 'quarters':
      return either(cross, ring(radius, line), (x, y) => (x * y > 0 ? Math.hypot(x, y) - radius : 1));
    case 'quarteredDisc':
      return either(cross, (x, y) => (x * y > 0 ? Math.hypot(x, y) - radius : 1));
    case 'quadrants':
      return (x, y) => (x * y > 0 ? Math.hypot(x, y) - size / 2 : 1);
    case 'star': {
      const wedges: Shape = (x, y) => (Math.sin(8 * Math.atan2(y, x) + Math.PI / 2) > 0 ? -1 : 1);
      return both(circle(0, 0, size / 2), wedges, outside(cross));
    }
  }
}

export interface SceneMark {
  readonly xMm: number;
  readonly yMm: number;
  /** On this film: as it should be, left out, partly under other ink, cut by the edge, or white in a black field. */
  readonly state: 'whole' | 'lost' | 'covered' | 'cut';
}

export interface SceneFilm {
  readonly plate: Plate;
  /** In the order of the scene's layout. */
  readonly marks: readonly SceneMark[];
  readonly laid: {
    readonly dxMm: number;
    readonly dyMm: number;
    readonly turnDeg: number;
    readonly scaleX: number;
    readonly scaleY: number;
  };
}

export interface Scene {
  readonly label: string;
  readonly design: SceneDesign;
  readonly sizeMm: number;
  readonly lineMm: number;
  readonly dpi: number;
  readonly films: readonly SceneFilm[];
  readonly middle: readonly [number, number];
}

export interface SceneWishes {
  readonly seed: number;
  readonly dpis?: readonly number[];
  readonly designs?: readonly SceneDesign[];
  readonly special?: 'plain' | 'lost' | 'covered' | 'reversed' | 'cut' | 'repeat' | 'plus';
  /** Blur (standard deviation) and noise of a scan, in pixels and tones. */
  readonly scan?: { readonly blurPx: number; readonly noise: number };
  readonly stretched?: boolean;
  readonly mostPixels?: number;
}

export function sceneOf(wishes: SceneWishes): Scene {
  const random = seededRandom(wishes.seed);
  const pick = <T>(of: readonly T[]): T => of[Math.floor(random() * of.length)];
  const between = (low: number, high: number): number => low + (high - low) * random();
  const dpi = pick(wishes.dpis ?? [300, 360, 600, 720, 1200, 1440, 2400]);
  const pitch = 25.4 / dpi;
  const design = pick(wishes.designs ?? sceneDesigns);
  const special = wishes.special ?? 'plain';
  const sizeMm = dpi >= 1440 ? between(3, 9) : dpi >= 720 ? between(3, 14) : between(3.4, 25);
  const least = Math.max(0.08, 2 * pitch);
  const lineMm = Math.max(least, Math.min(between(0.1, 0.5), 0.055 * sizeMm));
  const mostMm = Math.sqrt((wishes.mostPixels ?? 9e6) * pitch * pitch);
  const sideMm = Math.max(4.6 * sizeMm + 10, Math.min(170, mostMm));
  const grid = gridOf(sideMm * between(0.95, 1.15), sideMm * between(0.85, 1), dpi);
  const widthMm = grid.widthPx * pitch;
  const heightMm = grid.heightPx * pitch;
  const half = sizeMm / 2;
  const border = half + between(2, 4);
  const layouts: readonly (readonly [number, number])[][] = [
    [
      [border, border],
      [widthMm - border, border],
      [border, heightMm - border],
      [widthMm - border, heightMm - border],
    ],
    [
      [widthMm / 2, border],
      [widthMm / 2, heightMm - border],
      [border, heightMm / 2],
      [widthMm - border, heightMm / 2],
    ],
    [
      [border, border],
      [widthMm - border, border],
      [widthMm / 2, heightMm - border],
    ],
    [
      [widthMm / 2, border],
      [widthMm / 2, heightMm - border],
    ],
  ];
  const layout = special === 'lost' ? pick(layouts.slice(0, 2)) : pick(layouts);
  const middle: [number, number] = [widthMm / 2, heightMm / 2];
  const plateCount = 2 + Math.floor(2 * random());
  const shape = designShape(design, sizeMm, lineMm);
  const films: SceneFilm[] = [];
  const cutX = special === 'cut' ? border - between(0.05, 0.3) * sizeMm : 0;
  const commonTurn = random() < 0.5 ? 0 : between(-0.6, 0.6);
  for (let index = 0; index < plateCount; index++) {
    const reach = special === 'cut' ? 0.1 : 1;
    const stretch = wishes.stretched === false ? 0 : index * between(0, 0.0015);
    const laid = {
      dxMm: index === 0 ? 0 : reach * between(-0.4, 0.4),
      dyMm: index === 0 ? 0 : reach * between(-0.4, 0.4),
      turnDeg: special === 'cut' ? 0 : commonTurn + (index === 0 || random() < 0.3 ? 0 : between(-0.3, 0.3)),
      scaleX: 1 + (index === 0 ? 0 : stretch * (random() < 0.5 ? -1 : 1)),
      scaleY: 1 + (index === 0 ? 0 : stretch * between(-1, 1)),
    };
    const land = (x: number, y: number): [number, number] => {
      const angle = (-laid.turnDeg * Math.PI) / 180;
      const u = (x - middle[0]) * laid.scaleX;
      const v = (y - middle[1]) * laid.scaleY;
      const [c, s] = [Math.cos(angle), Math.sin(angle)];
      return [middle[0] + u * c - v * s + laid.dxMm, middle[1] + u * s + v * c + laid.dyMm];
    };
    const parts: Part[] = [];
    const white: Part[] = [];
    const marks: SceneMark[] = [];
    const lostIndex = special === 'lost' && index === plateCount - 1 ? Math.floor(random() * layout.length) : -1;
    const coveredIndex = special === 'covered' && index === plateCount - 1 ? Math.floor(random() * layout.length) : -1;
    layout.forEach(([x, y], at) => {
      const [px, py] = land(x - cutX, y);
      const xMm = px;
      const yMm = py;
      const isCut = xMm - half < 0 || yMm - half < 0;
      const state = at === lostIndex ? 'lost' : at === coveredIndex ? 'covered' : isCut ? 'cut' : 'whole';
      marks.push({ xMm, yMm, state });
      if (state === 'lost') return;
      const mark: Part = { ...partAbout(shape, xMm, yMm, laid.turnDeg, half + 0.3) };
      if (special === 'reversed') {
        parts.push(boxPart(xMm, yMm, sizeMm * 1.25, sizeMm * 1.25, -laid.turnDeg));
        white.push(mark);
      } else parts.push(mark);
      if (state === 'covered') {
        const corner = pick([-1, 1]);
        for (let k = 0; k < 4; k++) {
          parts.push(
            boxPart(
              xMm + corner * half * between(0.3, 1.2),
              yMm + half * between(0.2, 0.9),
              between(0.1, 0.3) * sizeMm,
              between(0.04, 0.2) * sizeMm,
            ),
          );
        }
      }
    });
    const inside: BoxMm = {
      xMm: sizeMm + 5.5,
      yMm: sizeMm + 5.5,
      widthMm: widthMm - 2 * sizeMm - 11,
      heightMm: heightMm - 2 * sizeMm - 11,
    };
    const put = (share: number, of: 'x' | 'y') =>
      of === 'x' ? inside.xMm + share * inside.widthMm : inside.yMm + share * inside.heightMm;
    for (let k = 0; k < 14; k++) {
      const size = between(0.02, 0.2) * Math.min(inside.widthMm, inside.heightMm);
      const [x, y] = [put(between(0.2, 0.8), 'x'), put(between(0.2, 0.8), 'y')];
      if (random() < 0.5) parts.push(discPart(x, y, size / 2));
      else parts.push(boxPart(x, y, size, size * between(0.05, 1), between(0, 180)));
    }
    if (special === 'repeat' && index === 0) {
      const step = Math.max(8, Math.min(inside.widthMm, inside.heightMm) / 6);
      const size = 0.5 * step;
      for (let x = inside.xMm + step / 2; x < inside.xMm + inside.widthMm; x += step) {
        for (let y = inside.yMm + step / 2; y < inside.yMm + inside.heightMm; y += step) {
          parts.push(partAbout(designShape('cross', size, Math.max(least, 0.04 * size)), x, y, laid.turnDeg, size));
        }
      }
    }
    if (special === 'plus') {
      const size = between(3, 6);
      for (let k = 0; k < 3; k++) {
        const x = put((k + 1) / 4, 'x');
        const y = put(between(0.1, 0.9), 'y');
        const stroke = size * between(0.1, 0.2);
        parts.push(boxPart(x, y, size, stroke), boxPart(x, y, stroke, size));
        parts.push(boxPart(x + 1.3 * size, y, stroke, 1.3 * size), boxPart(x - 1.3 * size, y, stroke, 1.3 * size));
      }
    }
    const drawn = withoutParts(drawParts(`p${index}`, grid, parts), white);
    const plate = wishes.scan === undefined ? drawn : scanned(drawn, wishes.scan, random);
    films.push({ plate, marks, laid });
  }
  const label = `${design} ${sizeMm.toFixed(1)} mm, line ${lineMm.toFixed(2)}, ${dpi} dpi, ${special}, seed ${wishes.seed}`;
  return { label, design, sizeMm, lineMm, dpi, films, middle };
}

function partAbout(shape: Shape, xMm: number, yMm: number, turnDeg: number, reachMm: number): Part {
  const cos = Math.cos((-turnDeg * Math.PI) / 180);
  const sin = Math.sin((-turnDeg * Math.PI) / 180);
  return {
    shape: (x, y) => shape((x - xMm) * cos + (y - yMm) * sin, (y - yMm) * cos - (x - xMm) * sin),
    boxMm: { xMm: xMm - reachMm, yMm: yMm - reachMm, widthMm: 2 * reachMm, heightMm: 2 * reachMm },
  };
}

function withoutParts(plate: Plate, parts: readonly Part[]): Plate {
  if (parts.length === 0) return plate;
  const cleared = drawParts('white', plate.grid, parts).bits;
  const words = plate.bits.words.map((word, index) => word & ~cleared.words[index]);
  return { ...plate, bits: { ...plate.bits, words } };
}

/** The film as a scanner sees it: blurred by a Gaussian, a little less than black on a little more than clear, noisy. */
export function scanned(
  plate: Plate,
  { blurPx, noise }: { blurPx: number; noise: number },
  random: () => number,
): Plate {
  const { widthPx, heightPx } = plate.bits;
  const tones = blurred(plate.bits, blurPx);
  const bits = createBitPlane(widthPx, heightPx);
  const tilesPerRow = Math.ceil(widthPx / tileSidePx);
  const tileRows = Math.ceil(heightPx / tileSidePx);
  const tiles = new Map<number, Uint8Array>();
  const toneHistogram = new Float64Array(256);
  for (let row = 0; row < heightPx; row++) {
    for (let column = 0; column < widthPx; column++) {
      const spread = random() + random() + random() + random() - 2;
      const tone = Math.max(
        0,
        Math.min(255, Math.round(12 + 230 * tones[row * widthPx + column] + noise * 1.732 * spread)),
      );
      toneHistogram[tone]++;
      if (tone >= 128) bits.words[row * bits.wordsPerRow + (column >> 5)] |= 1 << (column & 31);
      const index = Math.floor(row / tileSidePx) * tilesPerRow + Math.floor(column / tileSidePx);
      let tile = tiles.get(index);
      if (tile === undefined) {
        tile = new Uint8Array(tileSidePx * tileSidePx);
        tiles.set(index, tile);
      }
      tile[(row % tileSidePx) * tileSidePx + (column % tileSidePx)] = tone;
    }
  }
  const flatTones = new Int16Array(tilesPerRow * tileRows).fill(-1);
  return { ...plate, bits, tone: { widthPx, heightPx, tilesPerRow, tileRows, flatTones, tiles }, toneHistogram };
}

function blurred(bits: BitPlane, sigma: number): Float32Array {
  const { widthPx, heightPx } = bits;
  const reach = Math.ceil(3 * sigma);
  const weights = Array.from({ length: 2 * reach + 1 }, (_, i) => Math.exp(-((i - reach) ** 2) / (2 * sigma * sigma)));
  const sum = weights.reduce((a, b) => a + b);
  const across = new Float32Array(widthPx * heightPx);
  for (let row = 0; row < heightPx; row++) {
    for (let column = 0; column < widthPx; column++) {
      if (bitAt(bits, column, row) === 0) continue;
      for (let k = -reach; k <= reach; k++) {
        if (column + k >= 0 && column + k < widthPx) across[row * widthPx + column + k] += weights[k + reach] / sum;
      }
    }
  }
  const all = new Float32Array(widthPx * heightPx);
  for (let row = 0; row < heightPx; row++) {
    for (let k = -reach; k <= reach; k++) {
      const from = row + k;
      if (from < 0 || from >= heightPx) continue;
      const weight = weights[k + reach] / sum;
      for (let column = 0; column < widthPx; column++) {
        const value = across[from * widthPx + column];
        if (value !== 0) all[row * widthPx + column] += weight * value;
      }
    }
  }
  return all;
}
