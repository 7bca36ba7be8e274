import { describe, expect, it } from 'vitest';
import type { Artwork, Film } from '../../src/artwork/film.ts';
import type { CheckResult, Finding, Place } from '../../src/findings/finding.ts';
import { findSpot } from '../../src/inspect/findSpot.ts';
import { takePictures } from '../../src/inspect/takePictures.ts';
import { cropPlate } from '../../src/measurements/cropPlate.ts';
import type { Plate } from '../../src/plates/plate.ts';
import { createBitPlane, setBit } from '../../src/raster/bitPlane.ts';
import type { ToneImage } from '../../src/raster/toneImage.ts';

const pitchMm = 0.1;
const sidePx = 1000;

type Shape = (xMm: number, yMm: number) => boolean;

/** A plate 100 mm square with a shape on it. */
function plateOf(id: string, shape: Shape): Plate {
  const bits = createBitPlane(sidePx, sidePx);
  for (let row = 0; row < sidePx; row += 1) {
    for (let column = 0; column < sidePx; column += 1) {
      if (shape((column + 0.5) * pitchMm, (row + 0.5) * pitchMm)) setBit(bits, column, row);
    }
  }
  const grid = { widthPx: sidePx, heightPx: sidePx, pitchXMm: pitchMm, pitchYMm: pitchMm };
  return { id, filmId: 'f1', grid, tone: null, bits } as unknown as Plate;
}

const radiusMm = (xMm: number, yMm: number) => Math.hypot(xMm - 50, yMm - 50);
const disc = plateOf('p1', (xMm, yMm) => radiusMm(xMm, yMm) < 30);
const around = plateOf('p2', (xMm, yMm) => radiusMm(xMm, yMm) >= 30 && radiusMm(xMm, yMm) < 45);
const artwork = { films: [{ id: 'f1', widthMm: 100, heightMm: 100 } as Film] } as unknown as Artwork;

function cropOf(id: string, place: Omit<Place, 'filmId'>, plateIds: readonly string[], unit = 'mm') {
  const finding = {
    code: 'some-code',
    plateIds,
    measured: { value: place.value, unit, plusMinus: 0.1 },
    places: [{ filmId: 'f1', ...place }],
  } as unknown as Finding;
  const check = { id, findings: [finding] } as unknown as CheckResult;
  return takePictures(artwork, [disc, around], new Map(), [check]).crops[0];
}

const ring = { xMm: 20, yMm: 20, widthMm: 60, heightMm: 60, value: 188.5 };
const shares = ({ tones }: ToneImage) => tones.filter((tone) => tone > 0).length / tones.length;

describe('a crop', () => {
  it('of an edge as long as the film shows a spot on the edge, both inks in it, enlarged', () => {
    const crop = cropOf('butt-joint', ring, ['p1', 'p2']);
    const [first, second] = crop.layers.map(({ image }) => image);
    expect(first.widthPx * first.pitchXMm).toBeCloseTo(4.2, 0);
    for (const share of [shares(first), shares(second)]) {
      expect(share).toBeGreaterThan(0.3);
      expect(share).toBeLessThan(0.7);
    }
  });

  it('of an area shows all of it', () => {
    const crop = cropOf('semi-opaque-positive', { ...ring, heightMm: 10 }, ['p1'], 'percent');
    const [{ image }] = crop.layers;
    expect(crop.xMm).toBeLessThan(20);
    expect(crop.xMm + image.widthPx * image.pitchXMm).toBeGreaterThan(80);
    expect(image.heightPx).toBeLessThan(image.widthPx);
  });

  it('is not taken where no film has anything', () => {
    const corner = { xMm: 1, yMm: 1, widthMm: 4, heightMm: 4, value: 15 };
    expect(cropOf('coarse-image', corner, [], 'ppi')).toBeUndefined();
    expect(cropOf('coarse-image', ring, [], 'ppi')).toBeDefined();
  });

  it('of a mark that is lacking shows the other films too', () => {
    const mark = { xMm: 46, yMm: 8, widthMm: 8, heightMm: 8, value: 3 };
    expect(cropOf('missing-registration-mark', mark, ['p1'], 'count').layers.map(({ plateId }) => plateId)).toEqual([
      'p1',
      'p2',
    ]);
  });
});

describe('a spot to look at', () => {
  const box = { xMm: 0, yMm: 0, widthMm: 100, heightMm: 100 };
  const imageOf = (plate: Plate) => cropPlate(plate, box, sidePx);

  it('lies where two plates meet', () => {
    const spot = findSpot([imageOf(disc), imageOf(around)], box)!;
    expect(Math.abs(radiusMm(spot.xMm, spot.yMm) - 30)).toBeLessThan(3 * pitchMm);
  });

  it('lies on the edge of the ink of one plate, and nowhere on a blank one', () => {
    const spot = findSpot([imageOf(around)], box)!;
    expect(Math.abs(radiusMm(spot.xMm, spot.yMm) - 30)).toBeLessThan(3 * pitchMm);
    expect(findSpot([imageOf(plateOf('p3', () => false))], box)).toBeNull();
  });
});
