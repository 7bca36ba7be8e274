import type { HalftoneRegion } from '../../src/measurements/halftone.ts';
import { measureHalftone } from '../../src/measurements/measureHalftone.ts';
import type { Plate } from '../../src/plates/plate.ts';
import { seededRandom } from '../support/seededRandom.ts';
import { screenedByGhostscript, type spotFunctions } from './ghostscriptFilms.ts';
import { withIsland } from './islandFilms.ts';
import { diffused, lineArt, lineArts, ordered, patterned, patterns, scattered } from './otherFilms.ts';
import { plateOfTiff } from './plateOfTiff.ts';
import { type Dot, dotShapes, filmOf, isDark, type Screening, scanned, tonesCounted, wedge } from './screenedFilms.ts';
import type { Tally } from './tally.ts';

const wedgeTones = [0.03, 0.05, 0.1, 0.2, 0.3, 0.4, 0.5, 0.6, 0.75, 0.85, 0.9, 0.95, 0.97, 0.5, 0.15, 0.65];

/** A screening of a cell of `cellPx` pixels on a film of `dpi`. */
function drawScreening(random: () => number, dot: Dot, cellPx: number, dpi: number): Screening {
  const turns = dot === 'elliptical' || dot === 'line' ? 180 : 90;
  return { dot, rulingLpi: dpi / cellPx, angleDeg: random() * turns, phase: [random(), random()] };
}

/** Small islands of dots in line art, half of them touched by it: found, and nothing of the art with them. */
export function islands(tally: Tally, seed: number, count: number): void {
  const random = seededRandom(seed);
  const side = 2560;
  for (let k = 0; k < count; k++) {
    const kind = lineArts[k % lineArts.length];
    const dpi = [600, 720, 1200][Math.floor(3 * random())];
    // Lines among lines are no tint to anybody.
    const screening = drawScreening(random, dotShapes[Math.floor(5 * random())], 8 + 8 * random(), dpi);
    const radius = ((7 + 6 * random()) * dpi) / screening.rulingLpi;
    const place = () => 600 + (side - 1200) * random();
    const island = { column: place(), row: place(), radius, gap: random() < 0.5 ? 0 : 12 };
    const tone = 0.2 + 0.5 * random();
    const plate = withIsland(lineArt(kind, side, dpi, random), dpi, island, screening, tone);
    const regions = measureHalftone(plate).regions.filter((region) => region.kind !== 'pattern');
    const pitchMm = 25.4 / dpi;
    const [xMm, yMm] = [island.column * pitchMm, island.row * pitchMm];
    const isOn = ({ boxMm }: HalftoneRegion) =>
      boxMm.xMm <= xMm && xMm <= boxMm.xMm + boxMm.widthMm && boxMm.yMm <= yMm && yMm <= boxMm.yMm + boxMm.heightMm;
    const found = regions.find(isOn);
    const name = `${words(screening, dpi)} in ${kind}, ${island.gap === 0 ? 'touched' : 'apart'}`;
    const story = `${name}: ${regions.map((region) => `${said(region)}, ${region.areaMm2.toFixed(1)} mm²`).join('; ')}`;
    tally.add(
      'islands in line art: ruling within 0.5 %, angle within 0.5°',
      isRight(found, screening, 0.5, 0.5),
      story,
    );
    tally.add('islands in line art: nothing else is called a halftone', regions.every(isOn), story);
    if (found === undefined) continue;
    const share = found.areaMm2 / (Math.PI * (radius * pitchMm) ** 2);
    tally.add(
      'islands in line art: area within 40 %',
      Math.abs(share - 1) <= 0.4,
      `${story}, ${share.toFixed(2)} of it`,
    );
  }
}

/** Flat tints along the pixels, nearly along them, and along their diagonals. */
export function alongPixels(tally: Tally, seed: number, count: number): void {
  const random = seededRandom(seed);
  for (let k = 0; k < count; k++) {
    const dpi = [600, 720, 1200][Math.floor(3 * random())];
    const dot = dotShapes[k % 6];
    const angleDeg = [0, 0.4, 45, dot === 'elliptical' || dot === 'line' ? 90 : 89.6][Math.floor(k / 6) % 4];
    const cellPx = random() < 0.5 ? 6 + Math.floor(15 * random()) : 6 + 14 * random();
    const screening = { dot, rulingLpi: dpi / cellPx, angleDeg, phase: [random(), random()] } as const;
    const tone = 0.1 + 0.65 * random();
    const side = Math.round(Math.max(620, 22 * cellPx)) + 160;
    const plate = filmOf(side, side, dpi, (column, row) => {
      const isTint = Math.min(column, row) >= 80 && Math.max(column, row) < side - 80;
      return isTint && isDark(screening, tone, (column + 0.5) / dpi, (row + 0.5) / dpi);
    });
    const region = largestOf(plate);
    tally.add(
      'tints along the pixels: kind, ruling within 0.2 %, angle within 0.1°',
      isRight(region, screening, 0.2, 0.1),
      `${words(screening, dpi)} ${(100 * tone).toFixed(1)} %: ${said(region)}`,
    );
  }
}

function turnApart(a: number, b: number, period: number): number {
  const apart = (((a - b) % period) + period) % period;
  return Math.min(apart, period - apart);
}

function largestOf(plate: Plate): HalftoneRegion | undefined {
  return measureHalftone(plate).regions[0];
}

function isRight(
  region: HalftoneRegion | undefined,
  screening: Screening,
  rulingPercent: number,
  angleDeg: number,
): boolean {
  return (
    region?.kind === 'am' &&
    region.rulingLpi !== null &&
    region.angleDeg !== null &&
    Math.abs(region.rulingLpi / screening.rulingLpi - 1) <= rulingPercent / 100 &&
    // An elongated dot taken for a symmetric one is an error of shape, not of angle.
    turnApart(region.angleDeg, screening.angleDeg, screening.dot === 'line' ? 180 : 90) <= angleDeg
  );
}

const shapeClassOf = (dot: Dot) => (dot === 'line' ? 'line' : dot === 'elliptical' ? 'elongated' : 'symmetric');
const words = ({ dot, rulingLpi, angleDeg }: Screening, dpi: number) =>
  `${dot} ${rulingLpi.toFixed(1)} lpi ${angleDeg.toFixed(1)}° at ${dpi} dpi`;

/** Flat tints of one tone each, 10 to 75 %. */
export function flatTints(tally: Tally, seed: number, count: number): void {
  const random = seededRandom(seed);
  for (let k = 0; k < count; k++) {
    const dpi = [600, 720, 1200, 1440, 2400][Math.floor(5 * random())];
    // Coarser tints than 20 lpi are artwork.
    const cellPx = 6 + Math.min(30, dpi / 20 - 6) * random() ** 2;
    const screening = drawScreening(random, dotShapes[k % 6], cellPx, dpi);
    const tone = 0.1 + 0.65 * random();
    const side = Math.round(Math.max(620, 22 * cellPx));
    const plate = filmOf(side + 160, side + 160, dpi, (column, row) =>
      column >= 80 && row >= 80 && column < side + 80 && row < side + 80
        ? isDark(screening, tone, (column + 0.5) / dpi, (row + 0.5) / dpi)
        : false,
    );
    const region = largestOf(plate);
    const name = `${words(screening, dpi)} ${(100 * tone).toFixed(1)} %`;
    tally.add(
      'flat tints: kind, ruling within 0.2 %, angle within 0.1°',
      isRight(region, screening, 0.2, 0.1),
      `${name}: ${said(region)}`,
    );
    if (region === undefined) continue;
    const area = region.areaByToneMm2.reduce((sum, value) => sum + value, 0);
    const mean = region.areaByToneMm2.reduce((sum, value, percent) => sum + value * percent, 0) / area;
    tally.measure('flat tints: mean tone less the tone drawn, % dot', mean - 100 * tone, name);
    tally.add(
      'flat tints: mean tone within 0.5 % dot',
      Math.abs(mean - 100 * tone) <= 0.5,
      `${name}: ${mean.toFixed(2)}`,
    );
    const inTint = [80, 80, side + 80, side + 80] as const;
    const { least, most } = tonesCounted(plate, screening, dpi, cellPx < 10 ? 7 : 5, inTint, random);
    tally.add(
      'flat tints: smallest and largest tone within 1 % of those counted pixel by pixel',
      Math.abs(region.toneMinPercent! - least) <= 1 && Math.abs(region.toneMaxPercent! - most) <= 1,
      `${name}: ${region.toneMinPercent} to ${region.toneMaxPercent}, counted ${least} to ${most}`,
    );
    tally.measure('flat tints: smallest tone less the tone drawn, % dot', region.toneMinPercent! - 100 * tone, name);
    tally.measure('flat tints: largest tone less the tone drawn, % dot', region.toneMaxPercent! - 100 * tone, name);
  }
}

/** All tones from 3 to 97 % side by side. */
export function wedges(tally: Tally, seed: number, count: number): void {
  const random = seededRandom(seed);
  for (let k = 0; k < count; k++) {
    const dpi = [720, 1200, 1440, 2400][Math.floor(4 * random())];
    const cellPx = 12 + 18 * random();
    const screening = drawScreening(random, dotShapes[k % 6], cellPx, dpi);
    const plate = wedge(screening, dpi, wedgeTones, Math.round(16 * cellPx), 4);
    const region = largestOf(plate);
    const name = words(screening, dpi);
    tally.add(
      'wedges 3 to 97 %: kind, ruling within 0.2 %, angle within 0.1°',
      isRight(region, screening, 0.2, 0.1),
      `${name}: ${said(region)}`,
    );
    tally.add(
      'wedges: dot shape of six, cells of 12 px and more',
      region?.dotShape === screening.dot,
      `${name}: ${said(region)}`,
    );
    tally.add(
      'wedges: smallest tone within 1 % of 3, largest of 97',
      region !== undefined && Math.abs(region.toneMinPercent! - 3) <= 1 && Math.abs(region.toneMaxPercent! - 97) <= 1,
      `${name}: ${region?.toneMinPercent} to ${region?.toneMaxPercent}`,
    );
  }
}

/** Scans of wedges: blur of 1.2 px and noise of 8 of 255. */
export function greyWedges(tally: Tally, seed: number, count: number): void {
  const random = seededRandom(seed);
  for (let k = 0; k < count; k++) {
    const dpi = [720, 1200][Math.floor(2 * random())];
    const screening = drawScreening(random, dotShapes[k % 6], 10 + 12 * random(), dpi);
    const clean = wedge(screening, dpi, wedgeTones, Math.round((16 * dpi) / screening.rulingLpi), 4);
    const region = largestOf(scanned(clean, dpi, 1.2, 8, random));
    const name = words(screening, dpi);
    tally.add(
      'grey wedges: kind, ruling within 0.3 %',
      isRight(region, screening, 0.3, 0.2),
      `${name}: ${said(region)}`,
    );
    tally.add(
      'grey wedges: three classes of shape',
      region?.dotShapeClass === shapeClassOf(screening.dot),
      `${name}: ${region?.dotShapeClass}`,
    );
  }
}

/** Wedges as Ghostscript screens them. */
export async function ghostscriptWedges(tally: Tally, seed: number, count: number): Promise<void> {
  const random = seededRandom(seed);
  const spots: (keyof typeof spotFunctions)[] = ['round', 'elliptical', 'line', 'diamond', 'euclidean', 'square'];
  for (let k = 0; k < count; k++) {
    const dpi = [600, 720, 1200][Math.floor(3 * random())];
    const spot = spots[k % spots.length];
    const film = screenedByGhostscript(spot, dpi / (8 + 14 * random()), 90 * random(), dpi, wedgeTones, 7);
    const region = largestOf(await plateOfTiff(film.tiff));
    // Ghostscript counts angles in device space, whose rows run down.
    const screening: Screening = { dot: spot, rulingLpi: film.rulingLpi, angleDeg: 180 - film.angleDeg, phase: [0, 0] };
    const name = `Ghostscript, ${words(screening, dpi)}`;
    tally.add(
      'Ghostscript wedges: kind, ruling within 0.2 %, angle within 0.1°',
      isRight(region, screening, 0.2, 0.1),
      `${name}: ${said(region)}`,
    );
  }
}

/** Kinds told apart: dots of one size, matrices, regular artwork, and lattices of dots. */
export function kinds(tally: Tally, seed: number, rounds: number): void {
  const random = seededRandom(seed);
  const ask = (name: string, plate: Plate, wanted: readonly (string | undefined)[]) => {
    const region = largestOf(plate);
    tally.add('kinds: am, fm, ordered, pattern', wanted.includes(region?.kind), `${name}: ${said(region)}`);
  };
  for (let round = 0; round < rounds; round++) {
    const tone = 0.12 + 0.7 * random();
    const dpi = [600, 720][Math.floor(2 * random())];
    for (const dotPx of [2, 3, 4, 5])
      ask(
        `error diffusion of ${dotPx} px, ${tone.toFixed(2)}`,
        diffused(1100, dpi, dotPx, () => tone),
        ['fm'],
      );
    ask(
      'error diffusion, ramp',
      diffused(1400, dpi, 3, (across) => 0.05 + 0.9 * across),
      ['fm'],
    );
    ask(`scattered ${tone.toFixed(2)}`, scattered(1100, dpi, 3 + Math.floor(3 * random()), tone, random), ['fm']);
    for (const order of [2, 3])
      ask(
        `matrix of ${1 << order}, ramp`,
        ordered(1300, dpi, order, 1 + (round % 3), (across) => 0.05 + 0.9 * across),
        ['ordered'],
      );
    for (const pattern of patterns) {
      const periodMm = 2.2 + 2.6 * random();
      ask(
        `${pattern} of ${periodMm.toFixed(2)} mm`,
        patterned(pattern, 1500, dpi, periodMm, 180 * random(), 0.35 + 0.3 * random()),
        ['pattern', undefined],
      );
    }
    const dot = dotShapes[round % 6];
    const screening = drawScreening(random, dot, 8 + 10 * random(), dpi);
    ask(words(screening, dpi), wedge(screening, dpi, wedgeTones, 200, 4), ['am']);
  }
}

/** Share of windows of 512 px of line art that a halftone (am, fm or ordered) reaches into. */
export function lineArtWindows(tally: Tally, seed: number, rounds: number): void {
  const random = seededRandom(seed);
  for (let round = 0; round < rounds; round++) {
    for (const kind of lineArts) {
      const dpi = [360, 600, 720][Math.floor(3 * random())];
      countWindows(tally, `${kind} at ${dpi} dpi`, lineArt(kind, 2560, dpi, random));
    }
  }
}

export function countWindows(tally: Tally, name: string, plate: Plate): void {
  const { regions } = measureHalftone(plate);
  const windowMm = 512 * plate.grid.pitchXMm;
  for (let y = 0; y < plate.grid.heightPx / 512; y++) {
    for (let x = 0; x < plate.grid.widthPx / 512; x++) {
      const inside = regions.find(
        ({ kind, boxMm }) =>
          kind !== 'pattern' &&
          boxMm.xMm < (x + 1) * windowMm &&
          boxMm.xMm + boxMm.widthMm > x * windowMm &&
          boxMm.yMm < (y + 1) * windowMm &&
          boxMm.yMm + boxMm.heightMm > y * windowMm,
      );
      tally.add(
        'line art: windows not called a halftone',
        inside === undefined,
        `${name}, window ${x} ${y}: ${said(inside)}`,
      );
    }
  }
}

function said(region: HalftoneRegion | undefined): string {
  if (region === undefined) return 'nothing found';
  const { kind, rulingLpi, angleDeg, dotShape, dotShapeClass } = region;
  return `${kind} ${rulingLpi?.toFixed(2)} lpi ${angleDeg?.toFixed(2)}° ${dotShape} (${dotShapeClass})`;
}
