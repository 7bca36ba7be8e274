import { describe, expect, it } from 'vitest';
import type { Artwork } from '../../src/artwork/film.ts';
import { type Crew, crewOfOne } from '../../src/inspect/crew.ts';
import { measureJob } from '../../src/inspect/measureJob.ts';
import type { Overlap } from '../../src/measurements/overlap.ts';
import type { DrawnPlate } from '../../src/plates/plateBuilder.ts';
import { askOf } from '../support/askFixture.ts';
import { drawPlate, gridOf, rectangle, type Shape } from '../support/overlapPlates.ts';
import { ticketOf } from '../support/ticketFixture.ts';

const grid = gridOf(30, 20, 600);

/** Measures a job whose inks are drawn straight from their shapes instead of from a file. */
async function overlapsOf(
  shapes: Readonly<Record<string, Shape>>,
  roles: Record<string, 'underbase' | 'colour' | 'key'>,
): Promise<readonly Overlap[]> {
  const { artwork } = askOf({ inks: Object.keys(shapes), films: [{ widthMm: 30, heightMm: 20 }] });
  const film = {
    ...artwork.films[0],
    drawing: {
      nativeGrid: grid,
      plan: async (keys: readonly string[]) => [
        { grid, keys, job: { engine: 'bitmap' as const, bytes: new Uint8Array(), recipe: null } },
      ],
    },
  };
  const drawn: Artwork = { ...artwork, films: [film] };
  const worker = crewOfOne();
  const crew: Crew = {
    ...worker,
    do: (name, input) => {
      if (name !== 'draw') return worker.do(name, input);
      const plates = Object.values(shapes).map((shape): DrawnPlate => drawPlate('', grid, shape));
      return Promise.resolve(plates) as never;
    },
  };
  const { ask } = await measureJob(drawn, ticketOf({ roles }), crew, () => {});
  return ask.overlaps;
}

describe('a gap between two inks', () => {
  const shapes = (between: Shape): Record<string, Shape> => ({
    Coral: rectangle(9, 10, 8, 12),
    Lagoon: rectangle(17.4, 10, 8, 12),
    Third: between,
  });
  const gapOf = (overlaps: readonly Overlap[]) =>
    overlaps.find(({ plateIds }) => plateIds.join() === 'p-Coral,p-Lagoon')?.maxGapMm ?? null;

  it('is none where an outline prints over it, and is one over the base that lies below both', async () => {
    const line = rectangle(13.2, 10, 1, 12.4);
    expect(gapOf(await overlapsOf(shapes(line), { Third: 'key' }))).toBeNull();
    const base = rectangle(13.2, 10, 15.9, 11.5);
    expect(gapOf(await overlapsOf(shapes(base), { Third: 'underbase' }))).toBeCloseTo(0.4, 1);
  });
});
