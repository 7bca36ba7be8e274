import { describe, expect, it } from 'vitest';
import type { Halftone } from '../../src/measurements/halftone.ts';
import { measureHalftone } from '../../src/measurements/measureHalftone.ts';
import { bitAt } from '../../src/raster/bitPlane.ts';
import { lineArt } from '../acceptance/otherFilms.ts';
import { filmOf } from '../acceptance/screenedFilms.ts';
import { type Dither, ditheredPlane } from '../support/ditheredPlane.ts';
import { plateOfBits } from '../support/halftonePlates.ts';
import { planeOf, screenOf, spotFunctions } from '../support/screenedPlane.ts';
import { seededRandom } from '../support/seededRandom.ts';

const kindsOf = ({ regions }: Pick<Halftone, 'regions'>) => regions.map(({ kind }) => kind);
const pitchMm = 25.4 / 600;

describe('scattered dots', () => {
  const cases: (readonly [string, Dither, number, (across: number) => number])[] = [
    // Every window of it shows something coarser.
    ['white noise of 0.59, dots of 5 px', 'whiteNoise', 5, () => 0.59],
  ];
  for (const [name, how] of [
    ['error diffusion', 'errorDiffusion'],
    ['white noise', 'whiteNoise'],
  ] as const) {
    for (const dotPx of [1, 2, 4]) {
      cases.push([`${name} from light to dark, dots of ${dotPx} px`, how, dotPx, (across) => 0.02 + 0.96 * across]);
      for (const tone of [0.06, 0.31, 0.7, 0.92])
        cases.push([`${name} of ${tone}, dots of ${dotPx} px`, how, dotPx, () => tone]);
    }
  }

  it.each(cases)('are stochastic: %s', (_, how, dotPx, toneAt) => {
    const { regions } = measureHalftone(plateOfBits(ditheredPlane(1000, dotPx, how, toneAt), pitchMm));
    expect(regions.map(({ kind, rulingLpi, angleDeg }) => [kind, rulingLpi, angleDeg])).toEqual([['fm', null, null]]);
    expect(regions[0].dotPitchMm).toBeCloseTo(dotPx * pitchMm, 3);
    expect(regions[0].areaMm2 / (1000 * pitchMm) ** 2).toBeGreaterThan(0.9);
  });

  it('have the tones they were given', () => {
    const [region] = measureHalftone(
      plateOfBits(
        ditheredPlane(1000, 1, 'errorDiffusion', () => 0.2),
        pitchMm,
      ),
    ).regions;
    expect(Math.abs(region.toneMinPercent! - 20)).toBeLessThan(0.5);
    expect(Math.abs(region.toneMaxPercent! - 20)).toBeLessThan(0.5);
  });
});

describe('a threshold matrix on the film’s own pixels', () => {
  it.each([
    [4, 4],
    [8, 4],
    [8, 5],
    [16, 4],
  ])('is one, not several lattices of dots, where its dots are large: side %i, dots of %i px', (matrixSide, dotPx) => {
    const ramp = (across: number) => 0.02 + 0.96 * across;
    const { regions } = measureHalftone(plateOfBits(ditheredPlane(1800, dotPx, { matrixSide }, ramp), pitchMm));
    expect(kindsOf({ regions })).toEqual(['ordered']);
    const [{ dotPitchMm, areaMm2, toneMinPercent, toneMaxPercent }] = regions;
    expect(dotPitchMm).toBeCloseTo(dotPx * pitchMm, 6);
    expect(areaMm2).toBeGreaterThan(0.75 * (1800 * pitchMm) ** 2);
    expect(toneMinPercent).toBeLessThan(20);
    expect(toneMaxPercent).toBeGreaterThan(80);
  });

  it('does not make parts of it disappear that are too small to tell a matrix', () => {
    const ramp = ditheredPlane(1800, 4, { matrixSide: 4 }, (across) => 0.02 + 0.96 * across);
    const patch = ditheredPlane(88, 4, { matrixSide: 4 }, () => 0.25);
    const plate = filmOf(1800, 2100, 600, (column, row) => {
      if (row < 1800) return bitAt(ramp, column, row) === 1;
      const [c, r] = [column - 800, row - 1920];
      return c >= 0 && c < 88 && r >= 0 && r < 88 && bitAt(patch, c, r) === 1;
    });
    const { regions } = measureHalftone(plate);
    expect(regions[0].kind).toBe('ordered');
    expect(regions.some(({ boxMm }) => boxMm.yMm > 1850 * pitchMm)).toBe(true);
  });

  it.each([
    [4, 1],
    [8, 1],
    [8, 2],
    [16, 2],
  ])('is ordered: side %i, dots of %i px', (matrixSide, dotPx) => {
    const ramp = (across: number) => 0.02 + 0.96 * across;
    expect(kindsOf(measureHalftone(plateOfBits(ditheredPlane(1000, dotPx, { matrixSide }, ramp), pitchMm)))).toEqual([
      'ordered',
    ]);
    for (const tone of [0.1, 0.3, 0.8]) {
      const plane = ditheredPlane(1000, dotPx, { matrixSide }, () => tone);
      expect(kindsOf(measureHalftone(plateOfBits(plane, pitchMm)))).toEqual(['ordered']);
    }
  });
});

describe('islands of a line tint', () => {
  it('are told beside each other, those too small to tell by themselves as well', () => {
    const discs = [
      { x: 7, y: 8, radius: 2.1 },
      { x: 20, y: 8, radius: 6 },
      { x: 8, y: 22, radius: 2.5 },
      { x: 21, y: 23, radius: 4 },
    ];
    for (const angleDeg of [20, 89.7]) {
      const black = screenOf({ rulingLpi: 50, angleDeg, spot: spotFunctions.line, phase: [0.3, 0.1] });
      const isInk = (x: number, y: number) => discs.some((disc) => Math.hypot(x - disc.x, y - disc.y) < disc.radius);
      const plane = planeOf(800, 800, pitchMm, pitchMm, (x, y) => isInk(x, y) && black(x, y, 0.4));
      const { regions } = measureHalftone(plateOfBits(plane, pitchMm));
      expect(regions.map(({ kind, dotShape }) => [kind, dotShape])).toEqual(discs.map(() => ['am', 'line']));
    }
  });
});

describe('regular artwork', () => {
  const stripes = (periodMm: number, widthMm: number, angleDeg: number) => (x: number, y: number) => {
    const across = x * Math.cos((angleDeg * Math.PI) / 180) + y * Math.sin((angleDeg * Math.PI) / 180);
    return across / periodMm - Math.floor(across / periodMm) < widthMm / periodMm;
  };
  const plateOf = (black: (x: number, y: number) => boolean) =>
    measureHalftone(plateOfBits(planeOf(1800, 1800, pitchMm, pitchMm, black), pitchMm));

  it('is a pattern, not a halftone: stripes, gingham, spots', () => {
    const hatching = plateOf(stripes(2.82, 1.2, 33));
    expect(hatching.regions.map(({ kind, dotShape }) => [kind, dotShape])).toEqual([['pattern', 'line']]);
    expect(hatching.regions[0].rulingLpi).toBeCloseTo(25.4 / 2.82, 1);
    // The stripes run across the direction in which they repeat; rows run down, angles up.
    expect(hatching.regions[0].angleDeg).toBeCloseTo(180 - 33 - 90, 0);
    const across = stripes(3, 1.5, 0);
    const down = stripes(3, 1.5, 90);
    expect(kindsOf(plateOf((x, y) => across(x, y) || down(x, y)))).toEqual(['pattern']);
    const spots = plateOf((x, y) => Math.hypot(x - 2 * Math.round(x / 2), y - 2 * Math.round(y / 2)) < 0.5);
    expect(kindsOf(spots)).toEqual(['pattern']);
    expect(spots.regions[0].rulingLpi).toBeCloseTo(12.7, 1);
  });

  it('is a pattern even where few of its cells lie on the film', () => {
    for (const periodMm of [2.5, 4.1]) {
      const plane = planeOf(1500, 1500, 25.4 / 720, 25.4 / 720, stripes(periodMm, periodMm / 2, 0.7));
      const kinds = kindsOf(measureHalftone(plateOfBits(plane, 25.4 / 720)));
      expect(
        kinds.filter((kind) => kind !== 'pattern'),
        `stripes of ${periodMm} mm`,
      ).toEqual([]);
    }
    const wide = planeOf(1500, 1500, pitchMm, pitchMm, stripes(4.1, 2.05, 0.7));
    expect(kindsOf(measureHalftone(plateOfBits(wide, pitchMm)))).toEqual(['pattern']);
  });

  it('is nothing where lines are hatched by hand, each a little off its place', () => {
    for (const [seed, gapMm] of [
      [1, 0.95],
      [2, 1.1],
      [3, 1.25],
    ] as const) {
      const random = seededRandom(seed);
      const lines = Array.from({ length: 120 }, () => ({
        offMm: (random() - 0.5) * 0.5 * gapMm,
        slope: (random() - 0.5) * 0.02,
        weightMm: 0.2 + 0.1 * random(),
        fromMm: 8 * random(),
      }));
      const isInk = (x: number, y: number) => {
        const near = Math.round(y / gapMm);
        return [near - 1, near, near + 1].some((k) => {
          const line = lines[k + 1];
          if (line === undefined || x < line.fromMm) return false;
          return Math.abs(y - k * gapMm - line.offMm - line.slope * (x - 38)) < line.weightMm / 2;
        });
      };
      expect(plateOf(isInk).regions, `hatching ${gapMm} mm apart`).toEqual([]);
      const ruled = plateOf((x, y) => x > 4 && x < 70 && y > 4 && y < 70 && stripes(gapMm, 0.25, 90)(x, y));
      expect(kindsOf(ruled), `ruled ${gapMm} mm apart`).toEqual(['am']);
    }
  });

  it('is nothing where some lines hatched by hand lie evenly by chance', () => {
    for (const [seed, dpi] of [
      [6, 360],
      [24, 360],
      [50, 360],
      [15, 600],
      [39, 600],
      [86, 600],
    ])
      expect(measureHalftone(lineArt('freehand', 2560, dpi, seededRandom(seed))).regions, `seed ${seed}`).toEqual([]);
  });

  it('is nothing where contour lines run side by side over a few lines', () => {
    // Contours of a hillside, ever nearer to each other, 0.5 mm apart in the middle.
    for (const change of [0.02, 0.035, 0.05]) {
      const film = plateOf((x, y) => {
        const along = x * 0.71 + y * 0.7;
        if (Math.abs(along - 45) > 1.9 || Math.abs(x - y) > 14) return false;
        const turns = 2 * (along - 45) + change * (along - 45) ** 2 * 2;
        return turns - Math.floor(turns) < 0.4;
      });
      expect(kindsOf(film), `${change}`).toEqual([]);
    }
  });

  it('is nothing where contour lines come to lie evenly here and there', () => {
    for (const [seed, dpi] of [
      [13, 600],
      [15, 600],
      [43, 600],
      [61, 720],
    ])
      expect(measureHalftone(lineArt('contours', 1600, dpi, seededRandom(seed))).regions, `seed ${seed}`).toEqual([]);
  });

  it('is nothing where shapes stand about', () => {
    const rings = plateOf((x, y) => Math.hypot(x - 30, y - 41) % 2.3 < 0.5 || Math.hypot(x % 13, y % 17) < 4);
    expect(rings).toEqual({ regions: [] });
  });
});
