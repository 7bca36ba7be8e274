import { describe, expect, it } from 'vitest';
import type { Artwork } from '../../src/artwork/film.ts';
import type { Ask } from '../../src/checks/ask.ts';
import { buttJoint } from '../../src/checks/butt-joint.ts';
import { openGap } from '../../src/checks/open-gap.ts';
import { shortTrap } from '../../src/checks/short-trap.ts';
import { wideTrap } from '../../src/checks/wide-trap.ts';
import { type Crew, crewOfOne } from '../../src/inspect/crew.ts';
import { measureJob } from '../../src/inspect/measureJob.ts';
import { runCheck } from '../../src/inspect/runCheck.ts';
import type { DrawnPlate } from '../../src/plates/plateBuilder.ts';
import { askOf } from '../support/askFixture.ts';
import { both, circle, drawPlate, either, gridOf, outside, rectangle, type Shape } from '../support/overlapPlates.ts';
import { ticketOf } from '../support/ticketFixture.ts';

const grid = gridOf(30, 20, 600);

/** Measures a job whose inks are drawn straight from their shapes instead of from a file. */
async function measuredOf(
  shapes: Readonly<Record<string, Shape>>,
  roles: Record<string, 'underbase' | 'colour' | 'key'> = {},
): Promise<Ask> {
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
  return (await measureJob(drawn, ticketOf({ roles }), crew, () => {})).ask;
}

describe('a gap between two inks', () => {
  const shapes = (between: Shape): Record<string, Shape> => ({
    Coral: rectangle(9, 10, 8, 12),
    Lagoon: rectangle(17.4, 10, 8, 12),
    Third: between,
  });
  const gapOf = ({ overlaps }: Ask) =>
    overlaps.find(({ plateIds }) => plateIds.join() === 'p-Coral,p-Lagoon')?.maxGapMm ?? null;

  it('is none where an outline prints over it, and is one over the base that lies below both', async () => {
    const line = rectangle(13.2, 10, 1, 12.4);
    expect(gapOf(await measuredOf(shapes(line), { Third: 'key' }))).toBeNull();
    const base = rectangle(13.2, 10, 15.9, 11.5);
    expect(gapOf(await measuredOf(shapes(base), { Third: 'underbase' }))).toBeCloseTo(0.4, 1);
  });
});

describe('the checks of traps', () => {
  const panel = rectangle(15, 10, 26, 16);
  /** Round dots of 30 %, 40 to the inch at 22.5°, over the middle of the panel. */
  const dots: Shape = (x, y) => {
    const side = 25.4 / 40;
    const along = (x * Math.cos(0.3927) + y * Math.sin(0.3927)) / side;
    const across = (y * Math.cos(0.3927) - x * Math.sin(0.3927)) / side;
    const off = side * Math.hypot(along - Math.round(along), across - Math.round(across));
    return Math.max(off - side * Math.sqrt(0.3 / Math.PI), Math.abs(x - 15) - 10, Math.abs(y - 10) - 6);
  };
  const checks = [shortTrap, wideTrap, buttJoint, openGap];
  const findingsOf = async (first: Shape, second: Shape) => {
    const ask = await measuredOf({ Coral: first, Lagoon: second });
    return checks.flatMap((check) => runCheck(check, ask).findings.map(({ code }) => code));
  };

  it('find nothing where one ink lies wholly on the other, where they are far apart, or where dots meet', async () => {
    const letters = either(circle(8, 8, 2), rectangle(20, 10, 8, 0.4, 12), rectangle(15, 14, 3, 3, 30));
    expect(await findingsOf(panel, letters)).toEqual([]);
    expect(await findingsOf(letters, panel)).toEqual([]);
    expect(await findingsOf(circle(6, 10, 4), circle(22, 10, 4))).toEqual([]);
    expect(await findingsOf(dots, panel)).toEqual([]);
    expect(await findingsOf(panel, dots)).toEqual([]);
    expect(await findingsOf(dots, both(panel, outside(rectangle(15, 10, 20, 12))))).toEqual([]);
  });

  it('are told how much was left out where dots meet', async () => {
    const { overlaps } = await measuredOf({ Coral: dots, Lagoon: panel });
    expect(overlaps).toHaveLength(1);
    // The dots cover 20 × 12 mm.
    expect(overlaps[0].leftOut.areaMm2).toBeGreaterThan(0.9 * 240);
    expect(overlaps[0].leftOut.sharedAreaMm2).toBeGreaterThan(0.9 * 0.3 * 240);
    expect(overlaps[0].overprintAreaMm2).toBe(0);
  });

  it('find the butt of a knock-out without a trap', async () => {
    const disc = circle(15, 10, 5);
    expect(await findingsOf(disc, both(panel, outside(disc)))).toEqual(['edges-butt']);
  });
});
