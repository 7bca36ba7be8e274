import type { BoxMm } from '../../src/geometry/box.ts';
import { seededRandom } from './seededRandom.ts';

/** A piece of art by its outline, mm: a closed outline that is filled, or a curve drawn with a pen. */
export interface Patch {
  readonly points: readonly (readonly [x: number, y: number])[];
  readonly ink: string;
  /** Width of the pen; 0: filled. */
  readonly penMm: number;
  readonly isClosed: boolean;
  /** 1: solid. */
  readonly opacity: number;
}

export const inks: Readonly<Record<string, string>> = { Coral: '#e4572e', Lagoon: '#1f8a9e', Night: '#1b2a41' };
export const filmMm = 100;
const cellMm = 30;

/**
 * Nine patches, three of each row on a dark panel that they are knocked out of, each within a cell of 30 mm with at least
 * 4 mm around it. Which shape and ink each has hangs on the seed.
 */
export function drawPatches(seed: number): Patch[] {
  const random = seededRandom(seed);
  const pick = <T>(of: readonly T[]) => of[Math.floor(random() * of.length)];
  const patches: Patch[] = [];
  for (let cell = 0; cell < 9; cell++) {
    const [x, y] = [5 + cellMm * (cell % 3) + cellMm / 2, 5 + cellMm * Math.floor(cell / 3) + cellMm / 2];
    const ink = pick(cell < 6 ? ['Coral', 'Lagoon', 'Night'] : ['Coral', 'Lagoon']);
    const size = 6 + 4 * random();
    const turn = random();
    const round = (count: number, radiusOf: (index: number) => number) =>
      Array.from({ length: count }, (_, index): [number, number] => {
        const angle = 2 * Math.PI * (index / count + turn);
        return [x + radiusOf(index) * Math.cos(angle), y + radiusOf(index) * Math.sin(angle)];
      });
    const filled = { ink, penMm: 0, isClosed: true, opacity: 1 };
    // The first is always drawn with a pen, so that there are lines to thicken.
    const kind = cell === 0 ? 3 : cell >= 6 ? 1 : Math.floor(5 * random());
    if (kind === 0) patches.push({ ...filled, points: round(90, () => size) });
    else if (kind === 1)
      patches.push({ ...filled, points: round(10, (index) => (index % 2 === 0 ? size : size * 0.45)) });
    else if (kind === 2) patches.push({ ...filled, points: round(5, (index) => size * (1 - 0.1 * index)) });
    else if (kind === 3) patches.push({ ...filled, penMm: 0.5, points: round(80, () => size) });
    else {
      const points = Array.from({ length: 60 }, (_, index): [number, number] => [
        x - size + (size * index) / 30,
        y + size * 0.6 * Math.sin(index / 8 + 6 * turn),
      ]);
      patches.push({ ...filled, penMm: 0.6, isClosed: false, points });
    }
  }
  return patches;
}

export function svgOf(patches: readonly Patch[], hexOf: (ink: string) => string = (ink) => inks[ink]): string {
  const panel = `<rect x="2" y="67" width="96" height="31" fill="${hexOf('Night')}"/>`;
  const drawn = patches.map(({ points, ink, penMm, isClosed, opacity }) => {
    const d = `M${points.map(([x, y]) => `${x.toFixed(4)} ${y.toFixed(4)}`).join('L')}${isClosed ? 'z' : ''}`;
    const paint = penMm > 0 ? `fill="none" stroke="${hexOf(ink)}" stroke-width="${penMm}"` : `fill="${hexOf(ink)}"`;
    return `<path d="${d}" ${paint}${opacity < 1 ? ` opacity="${opacity}"` : ''} stroke-linejoin="round"/>`;
  });
  return `<svg xmlns="http://www.w3.org/2000/svg" width="${filmMm}mm" height="${filmMm}mm" viewBox="0 0 ${filmMm} ${filmMm}">${panel}${drawn.join('')}</svg>`;
}

/** The box around a patch, its pen included. */
export function boxOfPatch({ points, penMm }: Patch): BoxMm {
  const [xs, ys] = [points.map(([x]) => x), points.map(([, y]) => y)];
  const [left, top] = [Math.min(...xs) - penMm / 2, Math.min(...ys) - penMm / 2];
  return {
    xMm: left,
    yMm: top,
    widthMm: Math.max(...xs) + penMm / 2 - left,
    heightMm: Math.max(...ys) + penMm / 2 - top,
  };
}

export function movedPatch(patch: Patch, x: number, y: number): Patch {
  return { ...patch, points: patch.points.map(([px, py]) => [px + x, py + y]) };
}

/** Scaled about its own middle. */
export function resizedPatch(patch: Patch, factor: number): Patch {
  const { xMm, yMm, widthMm, heightMm } = boxOfPatch(patch);
  const [cx, cy] = [xMm + widthMm / 2, yMm + heightMm / 2];
  const points = patch.points.map(([x, y]): [number, number] => [cx + factor * (x - cx), cy + factor * (y - cy)]);
  return { ...patch, points, penMm: factor * patch.penMm };
}
