import { describe, expect, it } from 'vitest';
import { measureDetail } from '../../src/measurements/measureDetail.ts';
import { measureHalftone } from '../../src/measurements/measureHalftone.ts';
import { unclassifiedParts } from '../../src/measurements/unclassifiedParts.ts';
import type { Plate } from '../../src/plates/plate.ts';
import { filmOf, isDark } from '../acceptance/screenedFilms.ts';
import { boxAt, halftoneRegionOf } from '../support/askFixture.ts';
import { seededRandom } from '../support/seededRandom.ts';

const dpi = 600;
const side = 1800;

/** Grains of many sizes, anywhere, in a band of the film; dots on a lattice in another. */
function filmOfGrains(hasDots: boolean): Plate {
  const random = seededRandom(9);
  const grains = new Uint8Array(side * side);
  for (let k = 0; k < 4000; k++) {
    const [x, y, radius] = [120 + 1560 * random(), 120 + 700 * random(), 2 + 5 * random()];
    for (let row = Math.floor(y - radius); row <= y + radius; row++)
      for (let column = Math.floor(x - radius); column <= x + radius; column++)
        if (Math.hypot(column - x, row - y) <= radius) grains[row * side + column] = 1;
  }
  const screening = { dot: 'round', rulingLpi: 50, angleDeg: 22.5, phase: [0, 0] } as const;
  return filmOf(side, side, dpi, (column, row) => {
    if (row < 900) return grains[row * side + column] === 1;
    const isTint = hasDots && row > 1000 && row < 1700 && column > 120 && column < 1680;
    return isTint && isDark(screening, 0.4, (column + 0.5) / dpi, (row + 0.5) / dpi);
  });
}

function unclassifiedOn(plate: Plate) {
  const { regions } = measureHalftone(plate);
  const { screened } = measureDetail(plate, { searchToMm: 1, refineBelowMm: 0 });
  return { kinds: regions.map(({ kind }) => kind), parts: unclassifiedParts(screened, regions) };
}

describe('screened parts that no halftone accounts for', () => {
  it.each([false, true])('are told: grains of many sizes, beside a tint: %s', (hasDots) => {
    const { kinds, parts } = unclassifiedOn(filmOfGrains(hasDots));
    expect(kinds).toEqual(hasDots ? ['am'] : []);
    expect(parts.length).toBe(1);
    const [{ boxMm, areaMm2, why }] = parts;
    // 1560 × 700 px.
    const drawnMm2 = 1560 * 700 * (25.4 / dpi) ** 2;
    expect(areaMm2 / drawnMm2).toBeGreaterThan(0.85);
    expect(areaMm2 / drawnMm2).toBeLessThan(1.2);
    expect(boxMm.yMm + boxMm.heightMm).toBeLessThan((1000 * 25.4) / dpi);
    expect(why).toMatch(/not read as halftone/);
  });

  it('are none where all dots are those of a halftone', () => {
    const screening = { dot: 'square', rulingLpi: 40, angleDeg: 15, phase: [0, 0] } as const;
    const plate = filmOf(side, side, dpi, (column, row) => {
      const isTint = Math.hypot(column - 900, row - 900) < 700;
      return isTint && isDark(screening, 0.3 + (0.4 * column) / side, column / dpi, row / dpi);
    });
    expect(unclassifiedOn(plate)).toEqual({ kinds: ['am'], parts: [] });
  });

  it('of one box with dots that were read tell what is left of it', () => {
    const screened = { boxesMm: [boxAt(100, 80, 200, 80)], areasMm2: [16_000], innerAreasMm2: [15_200] };
    const [part] = unclassifiedParts(screened, [halftoneRegionOf()]);
    expect(part.areaMm2).toBe(8000);
    expect(part.why).toMatch(/Other dots here were/);
    expect(
      unclassifiedParts({ boxesMm: [boxAt(100, 80, 102, 82)], areasMm2: [9200], innerAreasMm2: [8400] }, [
        halftoneRegionOf(),
      ]),
    ).toEqual([]);
  });
});
