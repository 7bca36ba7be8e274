import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, describe, expect, it } from 'vitest';
import type { BoxMm } from '../../src/geometry/box.ts';
import type { ArtChange } from '../../src/revisions/artChange.ts';
import { artChanges, type RevisionArt } from '../../src/revisions/artChanges.ts';
import {
  boxOfPatch,
  drawPatches,
  inks,
  movedPatch,
  type Patch,
  resizedPatch,
  svgOf,
} from '../support/festivalPatches.ts';
import { hasOracle, runOracle } from '../support/oraclePrograms.ts';
import { artOfFilm } from '../support/revisionArt.ts';

const folder = mkdtempSync(join(tmpdir(), 'revisions-'));
afterAll(() => rmSync(folder, { recursive: true, force: true }));

const programs: Readonly<Record<string, { needs: string[]; write(svg: string, to: string): void }>> = {
  'rsvg-convert': {
    needs: ['rsvg-convert'],
    write: (svg, to) => runOracle('rsvg-convert', ['-f', 'pdf', '-o', to, svg]),
  },
  Inkscape: { needs: ['inkscape'], write: (svg, to) => runOracle('inkscape', [svg, `--export-filename=${to}`]) },
  'Ghostscript, of what rsvg-convert wrote': {
    needs: ['rsvg-convert', 'gs'],
    write: (svg, to) => {
      runOracle('rsvg-convert', ['-f', 'pdf', '-o', `${to}.first.pdf`, svg]);
      runOracle('gs', ['-q', '-dNOPAUSE', '-dBATCH', '-sDEVICE=pdfwrite', '-o', to, `${to}.first.pdf`]);
    },
  },
  'qpdf, of what rsvg-convert wrote': {
    needs: ['rsvg-convert', 'qpdf'],
    write: (svg, to) => {
      runOracle('rsvg-convert', ['-f', 'pdf', '-o', `${to}.first.pdf`, svg]);
      runOracle('qpdf', ['--object-streams=generate', '--compress-streams=y', `${to}.first.pdf`, to]);
    },
  },
};

const ofSvg = (svg: string) => artOfFilm('art.svg', Buffer.from(svg));
/** The art as a program wrote it to a PDF; null where it is not there. */
async function ofPdf(program: string, svg: string): Promise<RevisionArt | null> {
  const { needs, write } = programs[program];
  if (!needs.every(hasOracle)) return null;
  writeFileSync(join(folder, 'art.svg'), svg);
  write(join(folder, 'art.svg'), join(folder, 'art.pdf'));
  return artOfFilm('art.pdf', readFileSync(join(folder, 'art.pdf')));
}

const nextInk = (ink: string) => (ink === 'Coral' ? 'Lagoon' : 'Coral');
const nameOf = (ink: string) => inks[ink];
/** Pens add joins, and what lies on the grid is whole pixels. */
const isNear = (one: BoxMm, other: BoxMm) =>
  (['xMm', 'yMm', 'widthMm', 'heightMm'] as const).every((side) => Math.abs(one[side] - other[side]) < 0.25);

interface Expected {
  readonly kind: ArtChange['kind'];
  readonly ink: string;
  readonly box: BoxMm;
  readonly check?: (change: ArtChange) => void;
}

/** Six changes of one art at once, with what geometry says of each. */
function seeded(seed: number): { before: Patch[]; after: Patch[]; expected: Expected[] } {
  const before = drawPatches(seed);
  const direction = 2 * Math.PI * ((seed * 0.37) % 1);
  const [x, y] = [Math.cos(direction), Math.sin(direction)];
  const moved = before[1 + (seed % 2)];
  const onPanel = before[6];
  const gone = before[4];
  const recoloured = before[7];
  const tint: Patch = {
    points: [
      [40, 1],
      [60, 1],
      [60, 4],
      [40, 4],
    ],
    ink: 'Coral',
    penMm: 0,
    isClosed: true,
    opacity: 0.4,
  };
  const after = before
    .map((patch) => {
      if (patch === moved) return movedPatch(patch, x, y);
      if (patch === onPanel) return movedPatch(patch, -y, x);
      if (patch === recoloured) return { ...patch, ink: nextInk(patch.ink) };
      if (patch === before[0]) return { ...patch, penMm: 0.8 };
      if (patch === before[5]) return resizedPatch(patch, 1.12);
      return patch;
    })
    .filter((patch) => patch !== gone);
  after.push(tint);
  const byOne = (mx: number, my: number) => (change: ArtChange) => {
    expect(change.movedMm!.x).toBeCloseTo(mx, 1);
    expect(change.movedMm!.y).toBeCloseTo(my, 1);
  };
  return {
    before,
    after,
    expected: [
      { kind: 'moved', ink: moved.ink, box: boxOfPatch(movedPatch(moved, x, y)), check: byOne(x, y) },
      { kind: 'moved', ink: onPanel.ink, box: boxOfPatch(movedPatch(onPanel, -y, x)), check: byOne(-y, x) },
      { kind: 'removed', ink: gone.ink, box: boxOfPatch(gone) },
      {
        ...{ kind: 'recoloured', ink: nextInk(recoloured.ink), box: boxOfPatch(recoloured) },
        check: ({ wasInkName }) => expect(wasInkName).toBe(nameOf(recoloured.ink)),
      },
      {
        ...{ kind: 'thickened', ink: before[0].ink, box: boxOfPatch({ ...before[0], penMm: 0.8 }) },
        check: ({ byMm }) => expect(Math.abs(byMm! - 0.3)).toBeLessThan(0.06),
      },
      {
        ...{ kind: 'resized', ink: before[5].ink, box: boxOfPatch(resizedPatch(before[5], 1.12)) },
        check: ({ factor }) => expect(Math.abs(factor!.x - 1.12)).toBeLessThan(0.02),
      },
      {
        ...{ kind: 'added', ink: 'Coral', box: boxOfPatch(tint) },
        check: ({ tonePercent }) => expect(Math.abs(tonePercent!.now - 40)).toBeLessThan(2),
      },
    ],
  };
}

function expectChanges(found: readonly ArtChange[], expected: readonly Expected[]): void {
  const said = found.map(({ kind, inkNames, box }) => ({ kind, inkNames, box }));
  for (const { kind, ink, box, check } of expected) {
    const one = found.find((change) => change.kind === kind && change.box !== null && isNear(change.box, box));
    expect(one, `${kind} ${ink} ${JSON.stringify(box)} among ${JSON.stringify(said, null, 1)}`).toBeDefined();
    expect(one!.inkNames).toEqual([nameOf(ink)]);
    check?.(one!);
  }
  expect(said).toHaveLength(expected.length);
}

describe('what changed in the art from one revision to the next', () => {
  it.each([1, 2, 3])('is found by kind and place, and told once each (seed %i)', async (seed) => {
    const { before, after, expected } = seeded(seed);
    const earlier = await ofSvg(svgOf(before));
    expectChanges(await artChanges(earlier, await ofSvg(svgOf(after))), expected);
  });

  it.each([5])('is found in a PDF of another program (seed %i)', async (seed) => {
    const { before, after, expected } = seeded(seed);
    const later = await ofPdf('rsvg-convert', svgOf(after));
    if (later === null) return;
    expectChanges(await artChanges(await ofSvg(svgOf(before)), later), expected);
  });

  it.each(Object.keys(programs))('is nothing when the same art comes from %s', async (program) => {
    const svg = svgOf([...drawPatches(7), { ...drawPatches(8)[0], ink: 'Coral', opacity: 0.5 }]);
    const later = await ofPdf(program, svg);
    if (later === null) return;
    const earlier = await ofSvg(svg);
    expect(await artChanges(earlier, later)).toEqual([]);
    expect(await artChanges(later, earlier)).toEqual([]);
  });

  it('tells an ink in another colour, and a whole that lies elsewhere on its page', async () => {
    const patches = drawPatches(9);
    const earlier = await ofSvg(svgOf(patches));
    const red = await ofSvg(svgOf(patches, (ink) => (ink === 'Coral' ? '#a0143c' : inks[ink])));
    expect(await artChanges(earlier, red)).toMatchObject([
      { kind: 'inkRecoloured', inkNames: ['#a0143c'], wasInkName: inks.Coral },
    ]);
    const shifted = svgOf(patches).replace('viewBox="0 0 100 100"', 'viewBox="-1.5 0.5 100 100"');
    const [change, ...others] = await artChanges(earlier, await ofSvg(shifted));
    expect(others).toEqual([]);
    expect(change.kind).toBe('allMoved');
    expect(change.movedMm!.x).toBeCloseTo(1.5, 1);
    expect(change.movedMm!.y).toBeCloseTo(-0.5, 1);
  });

  it('tells an ink by another name from one that went and one that came, also where its art changed', async () => {
    const patches = drawPatches(10);
    const named = (art: RevisionArt, coral: string): RevisionArt => ({
      ...art,
      plates: art.plates.map((plate) => (plate.inkName === inks.Coral ? { ...plate, inkName: coral } : plate)),
    });
    const at = patches.findIndex(({ ink }) => ink === 'Coral');
    const after = patches.map((patch, index) => (index === at ? movedPatch(patch, 0, 1) : patch));
    const [was, is] = [await ofSvg(svgOf(patches)), await ofSvg(svgOf(after))];
    const found = await artChanges(named(was, 'Coral'), named(is, 'Sunset'));
    expect(found.map(({ kind, inkNames, wasInkName = null }) => [kind, inkNames, wasInkName]).sort()).toEqual([
      ['inkRenamed', ['Sunset'], 'Coral'],
      ['moved', ['Sunset'], null],
    ]);
    // A colour that nobody had named is named now, which is no change of the art.
    expect(await artChanges(was, named(was, 'Coral'))).toEqual([]);
  });
});
