import { describe, expect, test } from 'vitest';
import { svgTileHeightPx, svgTileWidthPx } from '../../src/raster/svgTile.ts';
import { areaMm2, drawKeys, greyPixels, gridFor, readSvg, svgText } from '../readers/svg/svgSupport.ts';

const offsets = [0, 1, 2, 3, 4, 5, 6, 7].map((step) => step / 8);

describe.each([600, 720])('lines at %d dpi', (dpi) => {
  const pitch = 25.4 / dpi;

  test.each([0.1, 0.2, 0.35, 0.5, 1])(
    'a stroke of %d mm has its width to a tenth of a pixel in the mean, at every angle',
    async (widthMm) => {
      const angles = [0, 7.3, 15, 30, 45, 60, 82.7, 90];
      const lines = angles.flatMap((angle, row) =>
        offsets.map((offset, column) => {
          const [x, y] = [8 + column * 12 + offset * pitch, 8 + row * 12 + offset * pitch];
          return `<path d="M-4 0H4" transform="translate(${x} ${y}) rotate(${angle})" stroke="#000" stroke-width="${widthMm}"/>`;
        }),
      );
      const film = await readSvg(svgText(lines.join(''), 'width="104mm" height="104mm" viewBox="0 0 104 104"'));
      const grid = gridFor(film, dpi);
      const plane = (await drawKeys(film, ['#000000'], grid)).get('#000000')!;
      expect(greyPixels(plane)).toBe(0);
      const widths = angles.map(() => [] as number[]);
      const side = Math.floor(12 / pitch);
      angles.forEach((_, row) => {
        offsets.forEach((__, column) => {
          let count = 0;
          const [left, top] = [Math.round((2 + column * 12) / pitch), Math.round((2 + row * 12) / pitch)];
          for (let y = top; y < top + side; y++) {
            for (let x = left; x < left + side; x++) if (plane[y * grid.widthPx + x] === 255) count++;
          }
          widths[row].push((count * pitch * pitch) / 8);
        });
      });
      widths.forEach((found, row) => {
        const mean = found.reduce((sum, width) => sum + width, 0) / found.length;
        // A line along the axes is a whole number of pixels; over eight evenly spaced places the mean is within 1/8.
        const aligned = angles[row] % 45 === 0;
        expect(Math.abs(mean - widthMm) / pitch, `mean at ${angles[row]}°`).toBeLessThan(aligned ? 0.2 : 0.1);
        for (const width of found)
          expect(Math.abs(width - widthMm) / pitch, `one line at ${angles[row]}°`).toBeLessThan(aligned ? 1.05 : 0.25);
      });
    },
  );

  test('rectangles measured in whole pixels are drawn to the pixel', async () => {
    const rectangles = [3, 10, 57].map(
      (size, index) =>
        `<rect x="${(20 + index * 100) * pitch}" y="${20 * pitch}" width="${size * pitch}" height="${size * pitch}" fill="#000"/>`,
    );
    const film = await readSvg(svgText(rectangles.join('')));
    const grid = gridFor(film, dpi);
    const plane = (await drawKeys(film, ['#000000'], grid)).get('#000000')!;
    expect(areaMm2(plane, grid) / pitch / pitch).toBeCloseTo(9 + 100 + 57 * 57, 6);
    expect(plane[20 * grid.widthPx + 20]).toBe(255);
    expect(plane[20 * grid.widthPx + 19]).toBe(0);
    expect(plane[76 * grid.widthPx + 276]).toBe(255);
    expect(plane[77 * grid.widthPx + 276]).toBe(0);
  });
});

test('three inks in one pass give the same plates as one ink a pass, also across tiles', async () => {
  const colours = ['#cc0000', '#00cc00', '#0000cc', '#222222'];
  const shapes = Array.from({ length: 120 }, (_, index) => {
    const [x, y] = [(index * 37.7) % 200, (index * 23.3) % 90];
    const colour = colours[index % 4];
    return index % 3 === 0
      ? `<path d="M${x} ${y}c10 ${index % 7} -4 12 20 9s3 7 -11 5" fill="none" stroke="${colour}" stroke-width="0.7"/>`
      : `<path d="M${x} ${y}c10 ${index % 7} -4 12 20 9s3 7 -11 5z" fill="${colour}" opacity="${index % 5 === 0 ? 0.5 : 1}"/>`;
  });
  const film = await readSvg(svgText(shapes.join(''), 'width="200mm" height="90mm" viewBox="0 0 200 90"'));
  const grid = gridFor(film, 600);
  expect(grid.widthPx).toBeGreaterThan(2 * svgTileWidthPx);
  expect(grid.heightPx).toBeGreaterThan(2 * svgTileHeightPx);
  const together = await drawKeys(film, colours, grid);
  for (const colour of colours) {
    const alone = (await drawKeys(film, [colour], grid)).get(colour)!;
    expect(Buffer.compare(alone, together.get(colour)!)).toBe(0);
  }
});

test('the same pass drawn twice is the same to the byte, and its strips keep within 1024 rows', async () => {
  const film = await readSvg(svgText('<circle cx="30" cy="20" r="15" fill="#c00"/>'));
  const grid = gridFor(film, 1440);
  const first = await drawKeys(film, ['#cc0000'], grid);
  const second = await drawKeys(film, ['#cc0000'], grid);
  expect(Buffer.compare(first.get('#cc0000')!, second.get('#cc0000')!)).toBe(0);
  expect(areaMm2(first.get('#cc0000')!, grid)).toBeCloseTo(Math.PI * 225, 0);
});

test('pitches that differ are drawn as such', async () => {
  const film = await readSvg(svgText('<rect x="10" y="10" width="20" height="10" fill="#c00"/>'));
  const grid = { widthPx: 600, heightPx: 200, pitchXMm: 0.1, pitchYMm: 0.2 };
  const plane = (await drawKeys(film, ['#cc0000'], grid)).get('#cc0000')!;
  expect(plane.filter((tone) => tone === 255).length).toBe(200 * 50);
});
