import { describe, expect, test } from 'vitest';
import { flattenedPath } from '../../../src/geometry/flattenedPath.ts';
import { areaMm2, drawKeys, greyPixels, gridFor, readFixture, readSvg, svgText } from './svgSupport.ts';

const usedKeys = (film: Awaited<ReturnType<typeof readSvg>>) =>
  film.inks.filter((ink) => ink.used).map((ink) => ink.key);

describe('objects', () => {
  test('a stroke keeps its path in film mm, and its pen', async () => {
    const film = await readSvg(
      svgText(
        '<g transform="translate(10 5) scale(2)"><circle id="ring" cx="10" cy="8" r="6" fill="none" stroke="#000"/><path id="bent" d="M0 0L5 0L5 5" fill="none" stroke="#000"/></g>',
      ),
    );
    const ring = film.objects.find((one) => one.id === 'ring:stroke')!;
    expect(ring.strokeWidthMm).toEqual({ min: 2, max: 2 });
    const [{ points: line }] = flattenedPath(ring.outline!.paths, ring.outline!.path, 0.005);
    for (let index = 0; index + 3 < line.length; index += 2) {
      const [x, y] = [(line[index] + line[index + 2]) / 2 - 30, (line[index + 1] + line[index + 3]) / 2 - 21];
      // A circle of four cubic curves is itself up to 0.03 % off.
      expect(Math.abs(Math.hypot(x, y) - 12)).toBeLessThan(0.005 + 12 * 0.0003);
    }
    const bent = film.objects.find((one) => one.id === 'bent:stroke')!.outline!;
    expect(flattenedPath(bent.paths, bent.path, 0.005)).toEqual([{ points: [10, 5, 20, 5, 20, 15], closed: false }]);
    expect(bent.pen).toMatchObject({ width: 1, matrix: [2, 0, 0, 2, 10, 5] });
  });

  test('fill and stroke of one element are two objects, clones carry the path they came by, ids are unique', async () => {
    const film = await readSvg(
      svgText(
        '<g id="band"><rect id="r" width="5" height="5" fill="#c00" stroke="#00c"/></g><use id="u" href="#band" x="10"/><use href="#r" id="v" x="20"/><rect width="3" height="3" x="40"/><rect id="r" width="3" height="3" x="50"/>',
      ),
    );
    const ids = film.objects.map((one) => one.id);
    expect(ids.slice(0, 6)).toEqual(['r', 'r:stroke', 'u/r', 'u/r:stroke', 'v/r', 'v/r:stroke']);
    expect(new Set(ids).size).toBe(ids.length);
    expect(film.objects[0].layerPath).toEqual(['band']);
  });

  test('a white page behind the art prints nothing; over art it knocks out', async () => {
    const film = await readSvg(
      svgText(
        '<rect id="page" width="60" height="40" fill="#ffffff"/><rect id="ink" x="5" y="5" width="20" height="20" fill="#123"/><rect id="half" x="20" y="5" width="10" height="5" fill="#fff"/>',
      ),
    );
    const by = new Map(film.objects.map((one) => [one.id, one]));
    expect([by.get('page')!.hidden, by.get('page')!.isWhite, by.get('page')!.inks]).toEqual(['sameAsGround', true, []]);
    expect([by.get('half')!.hidden, by.get('half')!.isWhite]).toEqual([null, true]);
    expect(film.inks.find((ink) => ink.key === 'white')).toEqual({
      key: 'white',
      name: 'white',
      kind: 'flat',
      displayHex: '#ffffff',
      used: true,
    });
  });

  test('a white that a layer or the file names is an ink of its own', async () => {
    const film = await readSvg(
      svgText(
        '<g id="Underbase"><rect id="a" x="5" y="5" width="10" height="10" fill="#fff"/></g><rect id="b" data-ink="Chalk" x="20" y="5" width="10" height="10" fill="#fff"/>',
      ),
    );
    expect(film.inks.map(({ key, name, kind }) => [key, name, kind])).toEqual([
      ['spot:Chalk', 'Chalk', 'spot'],
      ['white', 'Underbase', 'spot'],
    ]);
    expect(film.objects.map((one) => [one.isWhite, one.hidden, one.inks[0].key])).toEqual([
      [false, null, 'white'],
      [false, null, 'spot:Chalk'],
    ]);
    const grid = gridFor(film, 600);
    const planes = await drawKeys(film, ['spot:Chalk', 'white'], grid);
    expect(areaMm2(planes.get('spot:Chalk')!, grid)).toBeCloseTo(100, 0);
    expect(areaMm2(planes.get('white')!, grid)).toBeCloseTo(100, 0);
  });

  test('what lies under something seen through is seen; what lies under something opaque is not', async () => {
    const film = await readSvg(
      svgText(
        '<rect id="a" width="10" height="10" fill="#c00"/><rect id="glass" width="10" height="10" fill="#00c" fill-opacity=".3"/><rect id="b" x="20" width="10" height="10" fill="#0c0"/><rect id="lid" x="20" width="10" height="10" fill="#cc0"/>',
      ),
    );
    expect(film.objects.map((one) => [one.id, one.hidden])).toEqual([
      ['a', null],
      ['glass', null],
      ['b', 'covered'],
      ['lid', null],
    ]);
    expect(usedKeys(film).sort()).toEqual(['#0000cc', '#cc0000', '#cccc00']);
    expect(film.objects[1].opacityRatio).toBeCloseTo(0.3, 9);
    expect(film.objects[1].inks[0].tintRatio).toBeCloseTo(0.3, 9);
  });

  test('a sliver narrower than the grid is not called hidden', async () => {
    const film = await readSvg(
      svgText(
        '<path id="sliver" d="M5 5.013L55 5.014L55 5.015Z" fill="#c00"/><rect id="r" x="5" y="20" width="5" height="5"/>',
      ),
    );
    expect(film.objects.find((one) => one.id === 'sliver')!.hidden).toBeNull();
    expect(usedKeys(film)).toContain('#cc0000');
  });

  test('a corner that peeks out by 0.1 mm is seen', async () => {
    const film = await readSvg(
      svgText(
        '<rect id="under" x="10" y="10" width="10.1" height="10" fill="#c00"/><rect id="over" x="5" y="5" width="15" height="20" fill="#00c"/>',
      ),
    );
    expect(film.objects.find((one) => one.id === 'under')!.hidden).toBeNull();
  });

  test('a pattern whose first tile lies off the page is seen', async () => {
    const film = await readSvg(
      svgText(
        '<pattern id="p" x="-500" y="-500" width="5" height="5" patternUnits="userSpaceOnUse" patternTransform="rotate(30)"><circle cx="2.5" cy="2.5" r="1" fill="#1f8a9e"/></pattern><rect id="r" x="10" y="5" width="40" height="30" fill="url(#p)"/>',
      ),
    );
    expect(usedKeys(film)).toEqual(['#1f8a9e']);
    const grid = gridFor(film, 600);
    const plane = (await drawKeys(film, ['#1f8a9e'], grid)).get('#1f8a9e')!;
    expect(greyPixels(plane)).toBe(0);
    // One dot of 1 mm radius a tile of 25 mm²; the shape of 1200 mm² cuts some at its edge.
    expect(Math.abs(areaMm2(plane, grid) - (1200 * Math.PI) / 25)).toBeLessThan(6);
  });

  test('a pattern of too many tiles is noted, not drawn', async () => {
    const film = await readSvg(
      svgText(
        '<pattern id="p" width=".1" height=".1" patternUnits="userSpaceOnUse"><rect width=".05" height=".05"/></pattern><rect id="r" width="60" height="40" fill="url(#p)"/>',
      ),
    );
    expect(film.notes.map((note) => [note.code, note.affects])).toEqual([['pattern-not-drawn', 'plate']]);
  });
});

describe('live text', () => {
  test('is listed with its words as text, its size in points and an unknown font as unresolved', async () => {
    const film = await readFixture('text-live.svg');
    const [title] = film.objects;
    expect(title.kind).toBe('text');
    expect(title.text?.fontName).toContain('No Such Family');
    expect(title.text?.excerpt).toBe('Tide & <Band>');
    expect(title.text?.resolved).toBe(false);
    expect(title.text?.embedded).toBe(false);
    // 10 mm = 28.35 pt of 1/72 in.
    expect(title.text?.sizePt).toBeCloseTo((10 * 72) / 25.4, 6);
    expect(film.notes.map(({ code, affects, inkKeys }) => [code, affects, inkKeys])).toEqual([
      ['font-not-found', 'plate', ['#cc0000']],
    ]);
    const grid = gridFor(film, 720);
    const plane = (await drawKeys(film, ['#cc0000'], grid)).get('#cc0000')!;
    expect(greyPixels(plane)).toBe(0);
    expect(areaMm2(plane, grid)).toBeGreaterThan(30);
  });

  test('a generic family is never resolved', async () => {
    const film = await readSvg(svgText('<text x="5" y="20" font-family="sans-serif" font-size="5">Band</text>'));
    expect(film.objects[0].text?.resolved).toBe(false);
  });

  test('parts in other colours are inks of the text', async () => {
    const film = await readSvg(
      svgText('<text x="5" y="20" font-size="10" fill="#c00">Tide <tspan fill="#00c">and</tspan></text>'),
    );
    expect(film.objects[0].inks.map((ink) => ink.key).sort()).toEqual(['#0000cc', '#cc0000']);
    expect(usedKeys(film).sort()).toEqual(['#0000cc', '#cc0000']);
  });

  test('text off the page is hidden', async () => {
    const film = await readSvg(
      svgText('<text x="5" y="75" font-size="10" fill="#c00">Tide</text><rect width="5" height="5"/>'),
    );
    expect(film.objects[0].hidden).toBe('outsidePage');
    expect(usedKeys(film)).toEqual(['#000000']);
  });
});

test('pictures are listed with pixels, resolution and colour', async () => {
  const film = await readFixture('image-coloured.svg');
  const { image, kind, inks, isWhite } = film.objects[0];
  expect([kind, inks, isWhite]).toEqual(['image', [], true]);
  expect(image).toMatchObject({ widthPx: 2, heightPx: 2, bitsPerComponent: 8, colour: 'rgb' });
  expect(image?.ppiX).toBeCloseTo(2, 6);
  expect(image?.ppiY).toBeCloseTo(2, 6);
  const stamp = (await readFixture('image-black-white.svg')).objects.find((one) => one.id === 'stamp')!;
  expect(stamp.image?.colour).toBe('bilevel');
  expect(stamp.image?.ppiX).toBeCloseTo((4 / 20) * 25.4, 6);
});

test('registration colour prints on every plate, white on request too', async () => {
  const film = await readSvg(
    svgText(
      '<rect x="5" y="5" width="20" height="10" fill="#c00"/><rect x="10" y="7" width="5" height="5" fill="#fff"/><g data-ink="registration"><rect x="50" y="30" width="4" height="4" fill="#000"/></g>',
    ),
  );
  expect(film.inks.map(({ key, kind }) => [key, kind])).toEqual([
    ['registration', 'registration'],
    ['#cc0000', 'flat'],
    ['white', 'flat'],
  ]);
  const grid = gridFor(film, 720);
  const planes = await drawKeys(film, ['#cc0000', 'white'], grid);
  expect(areaMm2(planes.get('#cc0000')!, grid)).toBeCloseTo(200 - 25 + 16, -0.5);
  expect(areaMm2(planes.get('white')!, grid)).toBeCloseTo(25 + 16, -0.5);
});
