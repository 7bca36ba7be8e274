import { describe, expect, it } from 'vitest';
import { drawFilm, readFilm } from '../readers/pdf/support/drawFilm.ts';
import { spot, tinyPdf } from '../readers/pdf/support/tinyPdf.ts';

// Expected areas are worked out from the geometry, in points squared.

const key = 'spot:Lagoon';
const lagoon = `/ColorSpace<</L ${spot('Lagoon')}>>`;

async function areaPt2(content: string, dpi: number, resources = lagoon, box = [0, 0, 200, 200]): Promise<number> {
  const film = await readFilm(tinyPdf({ content, resources, mediaBox: box }));
  const drawn = await drawFilm(film, [key], dpi);
  return drawn.area(key) / (dpi / 72) ** 2;
}

describe('stroke widths as drawn', () => {
  const directions = { level: [150, 0], upright: [0, 150], slanted: [120, 90], steep: [20, 150] } as const;
  for (const dpi of [600, 720, 1200]) {
    for (const [name, [dx, dy]] of Object.entries(directions)) {
      it(`${name} strokes of 0.05 to 1 mm at ${dpi} dpi are as wide as they should be within half a pixel`, async () => {
        for (const widthMm of [0.05, 0.1, 0.35, 1]) {
          const widthPt = (widthMm * 72) / 25.4;
          const count = 9;
          let content = `/L CS 1 SCN ${widthPt} w\n`;
          for (let k = 0; k < count; k++) {
            // Steps that are no whole number of pixels, so that every phase of the pixel grid is met.
            const x = 10 + (dy === 0 ? 0 : k * 3.1713);
            const y = 10 + (dy === 0 ? k * 3.1713 : dx === 0 ? 0 : -k * 0.0713);
            content += `${x} ${y} m ${x + dx} ${y + dy} l S\n`;
          }
          const across = name === 'slanted' ? 0.6 : 1;
          expect(3.1713 * across).toBeGreaterThan(name === 'slanted' && widthMm === 1 ? 0 : widthPt);
          if (name === 'slanted' && widthMm === 1) continue;
          const meanPx = ((await areaPt2(content, dpi)) / (count * Math.hypot(dx, dy))) * (dpi / 72);
          expect(Math.abs(meanPx - (widthMm * dpi) / 25.4), `${widthMm} mm`).toBeLessThan(0.5);
        }
      });
    }
  }

  it('keeps caps and mitred corners of a thin stroke', async () => {
    // 1.2 pixels wide at 720 dpi: two legs of 50 pt, a square cap at both ends, and a mitre of a few hundredths.
    const corner = (k: number) =>
      `${10 + k * 0.0137} ${20 + k * 7.0313} m ${40 + k * 0.0137} ${60 + k * 7.0313} l ${70 + k * 0.0137} ${20 + k * 7.0313} l S\n`;
    const content = `/L CS 1 SCN 0.12 w 2 J 0 j\n${[0, 1, 2, 3, 4, 5].map(corner).join('')}`;
    expect(Math.abs((await areaPt2(content, 720)) / (6 * (100 + 0.12) * 0.12) - 1)).toBeLessThan(0.03);
  });

  it('draws strokes and rectangles thinner than a pixel one pixel wide, unbroken', async () => {
    // 0.02 mm at 300 dpi is a quarter of a pixel.
    const film = await readFilm(
      tinyPdf({
        content: '/L CS 1 SCN /L cs 1 scn 0.057 w 10 10 m 90 73 l S 10 90.3 80 0.057 re f',
        resources: lagoon,
      }),
    );
    const drawn = await drawFilm(film, [key], 300);
    const { widthPx, heightPx } = drawn.grid;
    const line: number[] = [];
    const rectangle: number[] = [];
    for (let column = Math.ceil((12 * 300) / 72); column < (88 * 300) / 72; column++) {
      let [upper, lower] = [0, 0];
      for (let row = 0; row < heightPx; row++) {
        if (!drawn.tones.get(key)![row * widthPx + column]) continue;
        if (row < heightPx * 0.15) upper++;
        else lower++;
      }
      rectangle.push(upper);
      line.push(lower);
    }
    expect(Math.min(...rectangle)).toBe(1);
    expect(Math.max(...rectangle)).toBe(1);
    expect(Math.min(...line)).toBeGreaterThanOrEqual(1);
    expect(Math.max(...line)).toBeLessThanOrEqual(2);
    expect(film.objects[0].strokeWidthMm!.max).toBeCloseTo((0.057 * 25.4) / 72, 9);
  });

  it('draws dashes by their lengths', async () => {
    const content = '/L CS 1 SCN 2 w [6 4] 0 d 10 50 m 110 50 l S';
    expect(await areaPt2(content, 720)).toBeCloseTo(2 * 60, 0);
  });

  it('dashes thin strokes too', async () => {
    const content = '/L CS 1 SCN 0.1 w [6 4] 3 d 10 50.02 m 110 50.02 l S';
    // Starting 3 into the dash: 3 on, then nine whole periods of 6 on; the last gap ends the line at 97, then 3 on.
    expect(await areaPt2(content, 1440)).toBeCloseTo(0.1 * 60, 0);
  });

  it('takes the pen through an unequal transform', async () => {
    // A level stroke is 1 wide in user space and 3 tall on the page; an upright one 1 wide.
    const content = '/L CS 1 SCN q 1 0 0 3 0 0 cm 1 w 10 20 m 90 20 l S 120 10 m 120 50 l S Q';
    expect(await areaPt2(content, 720)).toBeCloseTo(80 * 3 + 120 * 1, 0);
  });
});

describe('areas as drawn', () => {
  it('neither widens nor loses upright rectangles', async () => {
    let content = '/L cs 1 scn\n';
    let exact = 0;
    for (let k = 0; k < 40; k++) {
      const width = 0.25 + k * 0.0931;
      content += `${3 + (k % 20) * 9.37} ${20.3 + Math.floor(k / 20) * 20.41 + k * 0.173} ${width} 5 re f\n`;
      exact += width * 5;
    }
    expect(Math.abs((await areaPt2(content, 300)) / exact - 1)).toBeLessThan(0.03);
  });

  it('draws circles by their area', async () => {
    const k = 0.5522847498;
    let content = '/L cs 1 scn\n';
    let exact = 0;
    for (let n = 0; n < 40; n++) {
      const r = 1 + n * 0.13;
      const x = 13 + (n % 8) * 23.137;
      const y = 17 + Math.floor(n / 8) * 33.31;
      content += `${x + r} ${y} m ${x + r} ${y + k * r} ${x + k * r} ${y + r} ${x} ${y + r} c `;
      content += `${x - k * r} ${y + r} ${x - r} ${y + k * r} ${x - r} ${y} c `;
      content += `${x - r} ${y - k * r} ${x - k * r} ${y - r} ${x} ${y - r} c `;
      content += `${x + k * r} ${y - r} ${x + r} ${y - k * r} ${x + r} ${y} c f\n`;
      exact += Math.PI * r * r;
    }
    expect(Math.abs((await areaPt2(content, 720)) / exact - 1)).toBeLessThan(0.005);
  });

  it('clips to half a pixel', async () => {
    const content = '/L cs 1 scn 20.37 30.41 50.25 40.5 re W n 0 0 200 200 re f';
    expect(await areaPt2(content, 600)).toBeCloseTo(50.25 * 40.5, -1);
    const slanted = '/L cs 1 scn 100 20 m 180 100 l 100 180 l 20 100 l h W n 0 0 200 200 re f';
    expect(Math.abs((await areaPt2(slanted, 600)) / 12800 - 1)).toBeLessThan(0.002);
  });

  it('obeys the even-odd rule', async () => {
    expect(await areaPt2('/L cs 1 scn 10 10 80 80 re 30 30 40 40 re f*', 144)).toBe(80 * 80 - 40 * 40);
    expect(await areaPt2('/L cs 1 scn 10 10 80 80 re 30 30 40 40 re f', 144)).toBe(80 * 80);
  });

  it('expands tiling patterns into whole tiles', async () => {
    const tile = {
      entries: `/PatternType 1/PaintType 1/TilingType 1/BBox[0 0 7 7]/XStep 7.3/YStep 7.3/Matrix[1 0 0 1 3 2]/Resources<<${lagoon}>>`,
      data: '/L cs 1 scn 1 1 m 5 1 l 5 5 l 1 5 l f',
    };
    const film = await readFilm(
      tinyPdf(
        {
          content: '/Pattern cs /P scn 3 2 146 146 re f',
          resources: '/Pattern<</P 10 0 R>>',
          mediaBox: [0, 0, 200, 200],
        },
        [tile],
      ),
    );
    const drawn = await drawFilm(film, [key], 641);
    // 146 = 20 steps: 20 × 20 squares of 4 × 4.
    expect(Math.abs(drawn.area(key) / (641 / 72) ** 2 / (400 * 16) - 1)).toBeLessThan(0.01);
    expect(film.objects.map((object) => object.inks)).toEqual([[{ key, tintRatio: 1 }]]);
  });

  it('paints uncoloured tiles in the colour given, as a stroke as well', async () => {
    const tile = {
      entries: '/PatternType 1/PaintType 2/TilingType 1/BBox[0 0 4 4]/XStep 4/YStep 4/Resources<<>>',
      data: '0 0 2 4 re f',
    };
    const resources = `/ColorSpace<</U [/Pattern ${spot('Lagoon')}]>>/Pattern<</P 10 0 R>>`;
    const content = '/U cs 1 /P scn 20 20 80 40 re f /U CS 1 /P SCN 8 w 20 100 m 100 100 l S';
    const film = await readFilm(tinyPdf({ content, resources, mediaBox: [0, 0, 200, 200] }, [tile]));
    const drawn = await drawFilm(film, [key], 144);
    expect(drawn.area(key) / 4).toBeCloseTo(80 * 20 + 40 * 8, -1);
  });

  it('draws a shading by its function, within two levels of 255', async () => {
    const shading = `<</ShadingType 2/ColorSpace ${spot('Lagoon')}/Coords[0 0 200 0]/Function<</FunctionType 2/Domain[0 1]/C0[0]/C1[1]/N 1>>>>`;
    const film = await readFilm(
      tinyPdf({ content: '/S sh', resources: `/Shading<</S ${shading}>>`, mediaBox: [0, 0, 200, 50] }),
    );
    const drawn = await drawFilm(film, [key], 288);
    for (const t of [0.1, 0.3, 0.5, 0.7, 0.9]) {
      expect(Math.abs(drawn.at(key, Math.floor(t * drawn.grid.widthPx), 60) - 255 * t)).toBeLessThan(3);
    }
  });

  it('gives tints within one level of 255', async () => {
    for (const tint of [0.02, 0.1, 0.3, 0.5, 0.75, 0.98]) {
      const film = await readFilm(tinyPdf({ content: `/L cs ${tint} scn 0 0 100 100 re f`, resources: lagoon }));
      const drawn = await drawFilm(film, [key], 72);
      expect(Math.abs(drawn.at(key, 50, 50) - 255 * tint)).toBeLessThanOrEqual(1);
    }
  });
});
