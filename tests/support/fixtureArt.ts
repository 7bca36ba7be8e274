import { type Box, both, disc, either, type Shape, stroke, wave, without } from './paintedTones.ts';

export const film: Box = { xMm: 0, yMm: 0, widthMm: 300, heightMm: 352 };
const art: Shape = (x, y) => x > 14 && x < 286 && y > 14 && y < 338;
export const sun = disc(150, 150, 84);
const sea = both(wave(190, 7, 64, 300), disc(150, 170, 128));
export const rays = either(
  ...Array.from({ length: 24 }, (_, index) => {
    const angle = (index * Math.PI) / 12;
    const [c, s] = [Math.cos(angle), Math.sin(angle)];
    return stroke(150 + 94 * c, 150 + 94 * s, 150 + 124 * c, 150 + 124 * s, index % 3 === 0 ? 0.21 : 3);
  }),
);
const masts = either(stroke(120, 90, 120, 205, 2.4), stroke(120, 100, 168, 196, 0.3), stroke(120, 100, 84, 196, 0.28));
const sail: Shape = (x, y) => x > 123.5 && y > 108 && y < 196 && x - 123.5 < (y - 108) * 0.5;

export const fourShapes: readonly (readonly [name: string, hex: string, shape: Shape])[] = [
  ['White base', '#f6f4ee', both(art, either(disc(150, 150, 83), sail))],
  ['Coral', '#f2694e', both(art, either(without(sun, either(sea, sail)), rays))],
  ['Lagoon', '#1f8a9e', both(art, sea)],
  ['Night', '#131c33', both(art, either(masts, both(wave(240, 5, 40, 252), sea), both(wave(268, 5, 32, 276), sea)))],
];

export const twelveNames: readonly (readonly [string, string])[] = [
  ['White base', '#f6f4ee'],
  ['Lantern', '#f6b53c'],
  ['Coral', '#f2694e'],
  ['Rosehip', '#c9304e'],
  ['Plum', '#6d2c63'],
  ['Dusk', '#5a62a8'],
  ['Lagoon', '#1f8a9e'],
  ['Fern', '#3d8b50'],
  ['Meadow', '#9dbb3f'],
  ['Barley', '#d9b679'],
  ['Night', '#131c33'],
  ['Highlight white for the lantern strings and the band name', '#ffffff'],
];

/** A crescent for each of many inks. */
export function ring(index: number): Shape {
  return without(disc(150, 176, 150 - index * 11), disc(150 + index, 176 + index * 2, 137 - index * 11));
}
