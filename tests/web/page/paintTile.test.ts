import { expect, it } from 'vitest';
import { type InkLook, paintPixel } from '../../../web/page/src/table/inkLook.ts';
import { coverAt, paintTile, type TilePart } from '../../../web/page/src/table/paintTile.ts';
import { seededRandom } from '../../support/seededRandom.ts';

const sidePx = 32;
const random = seededRandom(11);
const bytes = () =>
  Uint8Array.from({ length: sidePx * sidePx }, () => {
    const kind = random();
    return kind < 0.5 ? 0 : kind < 0.7 ? 255 : Math.floor(random() * 256);
  });
const parts: TilePart[] = [
  { kind: 'bytes', values: bytes() },
  { kind: 'flat', value: 255 },
  { kind: 'bits', values: bytes().subarray(0, (sidePx * sidePx) / 8) },
  { kind: 'flat', value: 0 },
  { kind: 'bytes', values: bytes() },
];
const look = (way: InkLook['way'], keepsHairlines: boolean): InkLook => ({
  ...{ way, keepsHairlines, ground: [247, 246, 241] },
  // The last is of a plate that is not there.
  inks: [4, 0, 1, 3, 2, 7].map((plate) => ({
    plate,
    colour: [40 * plate, 255 - 30 * plate, 90] as const,
    opacity: plate === 1 ? 0 : 0.3 + 0.1 * plate,
  })),
});

it.each([
  ['shirt', false],
  ['films', true],
  ['films', false],
  ['edges', false],
] as const)('paints a tile as it paints each pixel (%s, hairlines kept: %s)', (way, keepsHairlines) => {
  const painted = paintTile(parts, look(way, keepsHairlines), sidePx);
  const wanted = new Uint8ClampedArray(painted.length);
  for (let at = 0; at < sidePx * sidePx; at++)
    paintPixel(
      look(way, keepsHairlines),
      (plate) => (plate < parts.length ? coverAt(parts[plate], at) : 0),
      wanted,
      4 * at,
    );
  expect(Buffer.from(painted).equals(Buffer.from(wanted))).toBe(true);
});
