import { type BoxMm, intersectionOfBoxes } from '../geometry/box.ts';
import type { Plate } from '../plates/plate.ts';
import { coarsePitchMm } from '../raster/pixelGrid.ts';
import { tilesOnCells } from '../raster/tilesOnCells.ts';
import type { DotShape, DotShapeClass, HalftoneRegion } from './halftone.ts';
import { type CellMap, fillCells, placeOfCell } from './halftoneCells.ts';
import { type FittedLattice, fitLattice } from './halftoneDrift.ts';
import { cellsAreAlike, type FoldedCell, foldCells } from './halftoneFold.ts';
import type { FoundLattice, Lattice } from './halftoneLattice.ts';
import { type FoundParts, findParts, type LatticeField, type LatticePart } from './halftoneMembers.ts';
import { alwaysPatternLpi, patternBelowLpi } from './halftonePatterns.ts';
import { scaleOf } from './halftonePeaks.ts';
import { classOfShape, shapeClassOf, shapeOf } from './halftoneShape.ts';
import { softEdgePercentOf } from './halftoneSoftEdges.ts';
import { type LineTurns, partsSetByScreen } from './halftoneSteadiness.ts';
import type { HalftoneTiles, ToneLevels } from './halftoneTiles.ts';
import { type PartTones, tonesOf } from './halftoneTones.ts';
import { factorFor, type LatticeWindows } from './halftoneWindow.ts';
import { tintMapOfCells } from './tintMap.ts';

/** A tint: this share of the area within so many percent of tone. */
const tintShare = 0.75;
const tintRange = 8;
/** Lines of the smallest type and its letters are no nearer to each other. */
const leastLetterMm = 0.8;
const mostVotes = 9;
/** Tones of neighbouring cells of a picture differ less. */
const mostScatterPercent = 15;
/** Parts of very light and very dark tones have the lattice of the rest, unless their own lies so far off it. */
const otherBeyond = 0.03;
const fewestTellingCells = 50;
/** Parts smaller than a window have no room for a vote. */
const leastVotingCells = 400;
/** Parts of which no window tells are that large. */
const fewestSilentCells = 100;
/** Lines that come near each other are parts of light tone too, but for their edges: of a tint so many cells lie within. */
const leastSilentWhole = 0.4;
/** And its cells differ by no more than this of their tone, or by a pixel. */
const mostSilentScatter = 0.5;
/** Where fewer cells are of middle tones, all have a vote. */
const leastMiddleShare = 0.25;
const agreesWithin = 0.01;

/** Where it is looked whether a part lies on a tile, across and down: its middle first, then around it. */
const placesInTile = Float64Array.from([
  ...[0.5, 0.5],
  ...[0.2, 0.5, 0.8].flatMap((x) => [0.2, 0.5, 0.8].flatMap((y) => [x, y])),
]);

export interface LatticeRegions {
  readonly regions: readonly HalftoneRegion[];
  /** Tiles the regions lie on. */
  readonly tiles: readonly number[];
}

/** Everything that is known of the cells of one lattice. */
interface Mapped extends FoundParts {
  readonly map: CellMap;
  /** Only of lines. */
  readonly lines: LineTurns | null;
}

/**
 * All parts of a plate, of the tiles asked for, that follow a lattice.
 * @param isNear tiles around the place where the lattice was found
 */
export function regionsOn(
  plate: Plate,
  found: FoundLattice,
  tiles: HalftoneTiles,
  isAsked: (tile: number) => boolean,
  isNear: (tile: number) => boolean,
  levels: ToneLevels,
  windows: LatticeWindows,
): LatticeRegions {
  const near = mapped(plate, found, [0, 0], found.balance, tiles, (tile) => isNear(tile) && isAsked(tile), levels);
  if (near.parts.length === 0) return { regions: [], tiles: [] };
  const tonesNear = () => near.map.ink.map((ink, cell) => ink / near.map.counts[cell]);
  if (!isEven(plate, near, near.parts[0].telling, tonesNear, levels)) return { regions: [], tiles: [] };
  const fitted = fitLattice(near.map, near.field, near.parts[0].telling);
  const all = mapped(plate, fitted, phaseOf(near, fitted), found.balance, tiles, isAsked, levels);
  if (all.parts.length === 0) return { regions: [], tiles: [] };
  const smoothed = new Float32Array(all.map.counts.length);
  const tones = all.parts.map((part) => tonesOf(all.map, part, pixelsPerCellOf(plate, fitted), smoothed));
  const middles = all.parts.map(({ telling }, k) => middleTones(telling, tones[k].smoothed));
  const most = middles.reduce((a, cells, k) => (cells.length > middles[a].length ? k : a), 0);
  const lattice = fitLattice(all.map, all.field, middles[most].length > 0 ? middles[most] : all.parts[most].telling);
  const shape = shapeOfParts(plate, lattice, all, tones, levels);
  const lineParts = all.parts.map(({ whole }, k) => ({ whole, smoothed: tones[k].smoothed }));
  const isSet =
    all.lines === null ? null : partsSetByScreen(all.map, all.lines, lineParts, pixelsPerCellOf(plate, fitted));
  const asked = all.parts.flatMap((part, k) => {
    if (isSet?.[k] === false) return [];
    const region = regionOf(plate, all, part, tones[k], middles[k], lattice, shape, windows, levels);
    return region === null ? [] : [{ region, part }];
  });
  const telling = asked.filter(({ region }) => region.windowsAgreed > 0);
  const cellsTelling = telling.reduce((sum, { part }) => sum + part.cells.length * all.map.join ** 2, 0);
  const kept = cellsTelling >= leastVotingCells ? asked : telling;
  return {
    regions: kept.map(({ region }) => region),
    tiles: tilesOf(
      all.map,
      kept.map(({ part }) => part.cells),
      tiles,
    ),
  };
}

function mapped(
  plate: Plate,
  lattice: Lattice,
  phase: readonly [number, number],
  balance: number,
  tiles: HalftoneTiles,
  isAsked: (tile: number) => boolean,
  levels: ToneLevels,
): Mapped {
  const { map, turns } = fillCells(plate, lattice, phase, tiles, isAsked, levels);
  // Looking for parts takes the turns away.
  const lines = lattice.isLines ? { realU: turns.realU.slice(), imaginaryU: turns.imaginaryU.slice() } : null;
  return { map, lines, ...findParts(map, turns, plate.tone !== null, pixelsPerCellOf(plate, lattice), balance) };
}

/** Phases by which the dots' middles come to lie in the middles of the cells of a lattice. */
function phaseOf({ map, field, parts }: Mapped, { fx, fy }: Lattice): [number, number] {
  const strength = (cell: number) => field.realU[cell] ** 2 + field.imaginaryU[cell] ** 2;
  const cell = parts[0].cells.reduce((a, b) => (strength(b) > strength(a) ? b : a));
  const column = cell % map.columns;
  const { dotU, dotV } = dotOffset(field, cell);
  const middle = placeOfCell(map, column, (cell - column) / map.columns);
  const size = map.lattice.fx ** 2 + map.lattice.fy ** 2;
  const xMm = middle.xMm + (map.lattice.fx * dotU - map.lattice.fy * dotV) / size;
  const yMm = middle.yMm + (map.lattice.fy * dotU + map.lattice.fx * dotV) / size;
  return [0.5 - (fx * xMm + fy * yMm), 0.5 - (-fy * xMm + fx * yMm)];
}

/** Where the dots' middles lie in the cells around one, in cells of the lattice, each from 0 to 1. */
function dotOffset(field: LatticeField, cell: number): { dotU: number; dotV: number } {
  const turns = (real: number, imaginary: number) => {
    const offset = -Math.atan2(imaginary, real) / (2 * Math.PI);
    return offset - Math.floor(offset);
  };
  return {
    dotU: turns(field.realU[cell], field.imaginaryU[cell]),
    dotV: turns(field.realV[cell], field.imaginaryV[cell]),
  };
}

/** Whether the cells of a part look alike, as dots of a tone do and letters in rows do not. */
function isEven(
  plate: Plate,
  { map, field, wholeAround }: Mapped,
  cells: Int32Array,
  tonesOfCells: () => Float32Array,
  levels: ToneLevels,
): boolean {
  if (map.cellMm / map.join < leastLetterMm) return true;
  const folds = foldCells(plate, map.lattice, { map, field, wholeAround }, [{ cells, tones: tonesOfCells() }], levels);
  return cellsAreAlike(folds, pixelsPerCellOf(plate, map.lattice), plate.tone !== null);
}

interface Shaped {
  readonly shape: DotShape;
  readonly shapeClass: DotShapeClass;
  /** Along u or v: the weaker fundamental, along which elongated dots hang together. */
  readonly chainsAlongU: boolean;
}

/** The shape of the dots of one lattice, from all its parts. */
function shapeOfParts(
  plate: Plate,
  lattice: Lattice,
  mapped: Mapped,
  tones: readonly PartTones[],
  levels: ToneLevels,
): Shaped {
  const { field, parts } = mapped;
  let sumU = 0;
  let sumV = 0;
  for (const [k, { smoothed }] of tones.entries()) {
    for (const cell of parts[k].telling) {
      if (smoothed[cell] < 0.15 || smoothed[cell] > 0.85) continue;
      sumU += Math.sqrt(field.realU[cell] ** 2 + field.imaginaryU[cell] ** 2);
      sumV += Math.sqrt(field.realV[cell] ** 2 + field.imaginaryV[cell] ** 2);
    }
  }
  const most = Math.max(sumU, sumV);
  const ratio = lattice.isLines ? 0 : most === 0 ? 1 : Math.min(sumU, sumV) / most;
  const chainsAlongU = !lattice.isLines && sumU < sumV;
  if (plate.tone !== null) {
    const shapeClass = most === 0 && !lattice.isLines ? 'unknown' : shapeClassOf(ratio);
    return { shape: shapeClass === 'line' ? 'line' : 'unknown', shapeClass, chainsAlongU };
  }
  const cells = tones.map(({ smoothed }, k) => ({ cells: parts[k].telling, tones: smoothed }));
  const folds: FoldedCell[] = lattice.isLines ? [] : foldCells(plate, lattice, mapped, cells, levels);
  const shape = shapeOf(folds, pixelsPerCellOf(plate, lattice), ratio);
  return { shape, shapeClass: classOfShape(shape, ratio), chainsAlongU };
}

function regionOf(
  plate: Plate,
  mapped: Mapped,
  { cells: part, whole, telling }: LatticePart,
  tones: PartTones,
  middle: Int32Array,
  common: FittedLattice,
  { shape, shapeClass, chainsAlongU }: Shaped,
  windows: LatticeWindows,
  levels: ToneLevels,
): HalftoneRegion | null {
  if (tones.scatterPercent > mostScatterPercent || !isEven(plate, mapped, telling, () => tones.smoothed, levels))
    return null;
  const { map, field } = mapped;
  const middleCells = middle.length === 0 ? 0 : (middle.length * map.join ** 2 * whole.length) / telling.length;
  const lattice = ownOrCommon(fitLattice(map, field, telling), common, middleCells);
  const isMiddling = middle.length > 0 && middle.length >= leastMiddleShare * telling.length;
  const votes = voteOn(plate, lattice, map, isMiddling ? middle : telling.length > 0 ? telling : part, windows);
  // No window tells the lattice of the lightest and the darkest tones: they follow that of other parts, if any.
  const isAskedOfOthers =
    middle.length === 0 &&
    lattice === common &&
    votes.windows === 1 &&
    part.length * map.join ** 2 >= fewestSilentCells &&
    whole.length >= leastSilentWhole * part.length &&
    isEvenLightOrDark(tones, pixelsPerCellOf(plate, lattice));
  if (votes.windowsAgreed < votes.windows / 2 && !isAskedOfOthers) return null;
  const ruling = Math.hypot(lattice.fx, lattice.fy);
  const rulingLpi = 25.4 * ruling;
  const pixelsPerCell = pixelsPerCellOf(plate, lattice);
  const { toneMinPercent, toneMaxPercent } = tones;
  const isPattern = rulingLpi < alwaysPatternLpi || (rulingLpi < patternBelowLpi && isOneTint(tones.areaByToneMm2));
  const boxMm = boxOfPart(plate, map, part);
  return {
    kind: isPattern ? 'pattern' : 'am',
    boxMm,
    areaMm2: tones.areaMm2,
    rulingLpi,
    rulingPlusMinusLpi: rulingLpi * lattice.rulingError,
    angleDeg: angleOf(lattice, shapeClass, chainsAlongU),
    anglePlusMinusDeg: (lattice.angleErrorRad * 180) / Math.PI,
    dotShape: shape,
    dotShapeClass: shapeClass,
    dotPitchMm: null,
    toneMinPercent,
    toneMaxPercent,
    tonePlusMinusPercent: tones.plusMinusPercent,
    areaByToneMm2: tones.areaByToneMm2,
    tintMap: tintMapOfCells(map, whole, tones.smoothed, boxMm),
    lightest: tones.lightest,
    darkest: tones.darkest,
    pixelsPerCell,
    greyLevels: Math.floor(pixelsPerCell ** 2) + 1,
    softEdgePercent: plate.tone === null ? null : softEdgePercentOf(plate.tone, middlesOf(plate, map, part), levels),
    ...votes,
  };
}

/** Whether most of an area has nearly one tone: few cells leave the rest to the edges, which cut through them. */
function isOneTint(areaByTone: readonly number[]): boolean {
  const area = areaByTone.reduce((sum, value) => sum + value, 0);
  let within = 0;
  return areaByTone.some((value, tone) => {
    within += value - (areaByTone[tone - tintRange] ?? 0);
    return within >= tintShare * area;
  });
}

/** Cells of the tones in which dots tell their lattice best. */
function middleTones(cells: Int32Array, smoothed: Float32Array): Int32Array {
  const middles = new Int32Array(cells.length);
  let length = 0;
  for (let k = 0; k < cells.length; k++) {
    const tone = smoothed[cells[k]];
    if (tone > 0.1 && tone < 0.75) middles[length++] = cells[k];
  }
  return middles.slice(0, length);
}

/** The lattice of a part by itself where it has enough to tell, or tells of another; else that of its like on the plate. */
function ownOrCommon(own: FittedLattice, common: FittedLattice, tellingCells: number): FittedLattice {
  const size = Math.hypot(common.fx, common.fy);
  const isOther = Math.hypot(own.fx - common.fx, own.fy - common.fy) > otherBeyond * size;
  return tellingCells >= fewestTellingCells || isOther ? own : common;
}

/** Counter-clockwise as seen, from the x axis; y runs down the film. */
function angleOf(lattice: Lattice, shapeClass: DotShapeClass, chainsAlongU: boolean): number {
  const alongU = (Math.atan2(-lattice.fy, lattice.fx) * 180) / Math.PI;
  const turned = shapeClass === 'symmetric' || shapeClass === 'unknown' || chainsAlongU ? alongU : alongU + 90;
  const round = shapeClass === 'line' || shapeClass === 'elongated' ? 180 : 90;
  const angle = ((turned % round) + round) % round;
  // What prints as the full turn is none.
  return angle > round - 0.00005 ? 0 : angle;
}

function pixelsPerCellOf({ grid }: Plate, { fx, fy }: Lattice): number {
  return 1 / (Math.hypot(fx, fy) * coarsePitchMm(grid));
}

function boxOfPart({ grid }: Plate, map: CellMap, part: Int32Array): BoxMm {
  let [left, top, right, bottom] = [Infinity, Infinity, -Infinity, -Infinity];
  for (let k = 0; k < part.length; k++) {
    // Within a stretch of neighbours only its ends tell; none goes on in the next row, as the outermost columns are bare.
    if (k > 0 && k + 1 < part.length && part[k - 1] === part[k] - 1 && part[k + 1] === part[k] + 1) continue;
    const column = part[k] % map.columns;
    const { xMm, yMm } = placeOfCell(map, column + 0.5, (part[k] - column) / map.columns + 0.5);
    left = Math.min(left, xMm);
    top = Math.min(top, yMm);
    right = Math.max(right, xMm);
    bottom = Math.max(bottom, yMm);
  }
  const half = map.cellMm / 2;
  const film = { xMm: 0, yMm: 0, widthMm: grid.widthPx * grid.pitchXMm, heightMm: grid.heightPx * grid.pitchYMm };
  const box = {
    xMm: left - half,
    yMm: top - half,
    widthMm: right - left + map.cellMm,
    heightMm: bottom - top + map.cellMm,
  };
  return intersectionOfBoxes(box, film) ?? box;
}

/** Windows of middle tones over a part, and how many of them show its lattice by themselves. */
function voteOn(
  plate: Plate,
  lattice: FittedLattice,
  map: CellMap,
  cells: Int32Array,
  windows: LatticeWindows,
): { windows: number; windowsAgreed: number } {
  const wanted =
    cells.length * map.join ** 2 < leastVotingCells ? 1 : Math.min(mostVotes, 1 + Math.floor(cells.length / 400));
  const { pitchXMm, pitchYMm } = plate.grid;
  const factor = factorFor(1 / Math.hypot(lattice.fx, lattice.fy), Math.max(pitchXMm, pitchYMm));
  // Where a window reaches beyond the film it tells a frequency to half a turn over its width.
  const { perTurn } = scaleOf(factor * pitchXMm, factor * pitchYMm);
  const within = Math.max(agreesWithin, (0.5 * perTurn) / Math.hypot(lattice.fx, lattice.fy));
  let agreed = 0;
  for (let k = 0; k < wanted; k++) {
    const cell = wanted === 1 ? middleOf(cells, map.columns) : cells[Math.floor(((k + 0.5) * cells.length) / wanted)];
    const column = cell % map.columns;
    const { xMm, yMm } = placeOfCell(map, column + 0.5, (cell - column) / map.columns + 0.5);
    const seen = windows.lookAt(xMm / pitchXMm, yMm / pitchYMm, factor);
    if (seen !== null && isSameLattice(seen, lattice, within)) agreed++;
  }
  return { windows: wanted, windowsAgreed: agreed };
}

function isEvenLightOrDark(
  { toneMinPercent, toneMaxPercent, scatterPercent }: PartTones,
  pixelsPerCell: number,
): boolean {
  if (toneMinPercent === null || toneMaxPercent === null) return false;
  const middle = (toneMinPercent + toneMaxPercent) / 2;
  return scatterPercent <= Math.max(mostSilentScatter * Math.min(middle, 100 - middle), 100 / pixelsPerCell ** 2);
}

/** The cell nearest to the middle of all: there a window has least of what lies around. */
function middleOf(cells: Int32Array, columns: number): number {
  let [across, down] = [0, 0];
  for (const cell of cells) {
    across += cell % columns;
    down += Math.floor(cell / columns);
  }
  const away = (cell: number) =>
    Math.hypot((cell % columns) - across / cells.length, Math.floor(cell / columns) - down / cells.length);
  return cells.reduce((nearest, cell) => (away(cell) < away(nearest) ? cell : nearest));
}

/** Whether two lattices are one, whichever of its axes is named first. */
export function isSameLattice(a: Lattice, b: Lattice, within = agreesWithin): boolean {
  const size = b.fx ** 2 + b.fy ** 2;
  // The quotient of the two frequencies as complex numbers: 1, i, -1 or -i when they are one lattice.
  const real = (a.fx * b.fx + a.fy * b.fy) / size;
  const imaginary = (a.fy * b.fx - a.fx * b.fy) / size;
  const [major, minor] = Math.abs(real) >= Math.abs(imaginary) ? [real, imaginary] : [imaginary, real];
  return Math.abs(Math.abs(major) - 1) < within && Math.abs(minor) < within;
}

function middlesOf({ grid }: Plate, map: CellMap, part: Int32Array): { column: number; row: number }[] {
  const step = Math.max(1, Math.floor(part.length / 40));
  const middles: { column: number; row: number }[] = [];
  for (let k = 0; k < part.length; k += step) {
    const column = part[k] % map.columns;
    const { xMm, yMm } = placeOfCell(map, column + 0.5, (part[k] - column) / map.columns + 0.5);
    middles.push({ column: Math.round(xMm / grid.pitchXMm), row: Math.round(yMm / grid.pitchYMm) });
  }
  return middles;
}

/** Tiles that any of the parts lies on, at their middles or around them. */
function tilesOf(map: CellMap, parts: readonly Int32Array[], tiles: HalftoneTiles): number[] {
  const belongs = new Uint8Array(map.counts.length);
  for (const part of parts) for (let k = 0; k < part.length; k++) belongs[part[k]] = 1;
  const { sidePx, grid, perRow, rows } = tiles;
  const [wideMm, highMm] = [sidePx * grid.pitchXMm, sidePx * grid.pitchYMm];
  const { lattice, phaseU, phaseV, join } = map;
  const cells = {
    ...{ left: map.left, top: map.top, columns: map.columns, rows: map.rows, flags: belongs },
    acrossU: (lattice.fx * wideMm) / join,
    downU: (lattice.fy * highMm) / join,
    atU: phaseU / join,
    acrossV: (-lattice.fy * wideMm) / join,
    downV: (lattice.fx * highMm) / join,
    atV: phaseV / join,
  };
  const isOn = tilesOnCells(cells, perRow, rows, placesInTile);
  const found: number[] = [];
  for (let tile = 0; tile < isOn.length; tile++) if (isOn[tile] === 1) found.push(tile);
  return found;
}
