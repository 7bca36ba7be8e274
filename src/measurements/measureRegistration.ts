import type { PointMm } from '../geometry/box.ts';
import type { Plate } from '../plates/plate.ts';
import { coarsePitchMm } from '../raster/pixelGrid.ts';
import type { ArtFit, Displaced, PlateMarks, PlateRegister, Registration } from './marks.ts';
import { marksBoxesMm } from './marksBoxes.ts';
import { type FittedArt, fitArt, type Outlines } from './registrationArt.ts';
import { chooseFit, type Matched } from './registrationChoice.ts';
import { crossedLines, lineEveryMm } from './registrationEdges.ts';
import {
  centroid,
  type Fit,
  fitErrors,
  fitRigid,
  fitTranslation,
  fitted,
  largestLeftMm,
  leftOver,
  rotationDegOf,
  scaleOf,
  spareMarks,
  stretchOf,
} from './registrationFit.ts';
import { matchMarks } from './registrationMatch.ts';

/**
 * How each plate lies to the one with the most confirmed marks (the first of those), from the marks both have.
 *
 * Shifts are those of the plate's marks from the reference's (right and down positive), at the middle of the marks.
 * The simplest fit that leaves no more than 0.05 mm is taken: translation, similarity, and with four marks or more
 * affine. One mark that alone spoils an otherwise good fit is left out of it: it shows as the one large residual.
 * Rotation and scale come from two marks on; a residual needs a spare mark.
 *
 * Given the plates themselves, outlines are compared too: `artFit` says how a plate's art lies to another's, and where
 * plates share no marks it is all there is. Null when nothing tells how any two plates lie.
 */
export function measureRegistration(marks: readonly PlateMarks[], plates: readonly Plate[] = []): Registration | null {
  if (marks.length < 2) return null;
  let reference = marks[0];
  for (const plate of marks) if (plate.marks.length > reference.marks.length) reference = plate;
  const outlines = outlinesOf(marks, plates);
  const laid = new Map<string, Fit>([[reference.plateId, atRest]]);
  const registers: PlateRegister[] = [];
  for (const plate of marks) {
    if (plate === reference) continue;
    const pairs = matchMarks(reference.marks, plate.marks);
    const art = bestArtFit(reference, plate, marks, outlines, laid);
    if (pairs.length > 0) {
      const { register, fit } = registerOf(plate, reference, pairs, art);
      laid.set(plate.plateId, fit);
      registers.push(register);
    } else if (art !== null && art.against === reference.plateId) registers.push(registerByArt(plate, reference, art));
  }
  return registers.length === 0 ? null : { referencePlateId: reference.plateId, plates: registers };
}

const atRest = fitTranslation([{ from: { xMm: 0, yMm: 0 }, to: { xMm: 0, yMm: 0 } }]);

interface ArtFound extends FittedArt {
  readonly against: string;
}

function outlinesOf(marks: readonly PlateMarks[], plates: readonly Plate[]): ReadonlyMap<string, Outlines> {
  if (plates.length === 0) return new Map();
  const boxes = marksBoxesMm(marks);
  const everyMm = lineEveryMm(plates[0]);
  return new Map(
    plates.map((plate) => [
      plate.id,
      {
        level: crossedLines(plate, everyMm, false, boxes),
        upright: crossedLines(plate, everyMm, true, boxes),
        pitchMm: coarsePitchMm(plate.grid),
        everyMm,
      },
    ]),
  );
}

/** The fit of a plate's art to the reference's, or to that of another plate whose place is known. */
function bestArtFit(
  reference: PlateMarks,
  plate: PlateMarks,
  marks: readonly PlateMarks[],
  outlines: ReadonlyMap<string, Outlines>,
  laid: ReadonlyMap<string, Fit>,
): ArtFound | null {
  const own = outlines.get(plate.plateId);
  if (own === undefined) return null;
  const others = [reference, ...marks.filter((other) => other !== reference && laid.has(other.plateId))];
  for (const other of others) {
    const theirs = outlines.get(other.plateId);
    const found = theirs === undefined ? null : fitArt(theirs, own);
    if (found !== null) return { ...found, against: other.plateId };
  }
  return null;
}

function registerOf(
  plate: PlateMarks,
  reference: PlateMarks,
  pairs: readonly Matched[],
  art: ArtFound | null,
): { register: PlateRegister; fit: Fit } {
  const { fit, used, facts, moved } = chooseFit(pairs);
  const middle = centroid(used.map((pair) => pair.from));
  const landed = fitted(fit, middle);
  let worstOffsetMm = 0;
  let plusMinusMm = 0;
  for (const { from, to, plusMinusMm: own } of pairs) {
    worstOffsetMm = Math.max(worstOffsetMm, Math.hypot(to.xMm - from.xMm, to.yMm - from.yMm));
    plusMinusMm = Math.max(plusMinusMm, own);
  }
  const hull = [...reference.artHullMm, ...plate.artHullMm];
  const stretch = facts === null ? null : stretchOf(facts);
  const errors = facts === null ? null : fitErrors(facts.model === 'affine' ? 'affine' : 'similarity', used);
  const register: PlateRegister = {
    plateId: plate.plateId,
    marksUsed: used.length,
    dxMm: landed.xMm - middle.xMm,
    dyMm: landed.yMm - middle.yMm,
    rotationDeg: facts === null ? null : rotationDegOf(facts),
    rotationPlusMinusDeg: errors === null ? null : (errors.turnRad * 180) / Math.PI,
    scale: facts === null ? null : scaleOf(facts),
    scalePlusMinus: errors === null ? null : errors.scale,
    residualMm: spareMarks(fit.model, used.length) > 0 ? largestLeftMm(fit, pairs) : null,
    worstOffsetMm,
    plusMinusMm,
    model: fit.model,
    residuals: pairs.map((pair) => ({ xMm: pair.from.xMm, yMm: pair.from.yMm, ...leftOver(fit, pair) })),
    scaleX: stretch?.scaleX ?? null,
    scaleY: stretch?.scaleY ?? null,
    skewDeg: stretch?.skewDeg ?? null,
    movedMark: moved === null ? null : displaced(moved.from, fitted(fit, moved.from), moved.to),
    worstOnArt: worstOf(
      hull,
      (point) => point,
      (point) => fitted(facts ?? fit, point),
    ),
    worstAfterFit: worstOf(
      hull,
      (point) => fitted(fitRigid(used), point),
      (point) => fitted(facts ?? fit, point),
    ),
    artFit: art === null ? null : artFitOf(art, art.against === reference.plateId ? fit : null, hull),
  };
  return { register, fit };
}

function registerByArt(plate: PlateMarks, reference: PlateMarks, art: ArtFound): PlateRegister {
  const hull = [...reference.artHullMm, ...plate.artHullMm];
  const { dxMm, dyMm } = shiftAt(art.fit, art.middle);
  const worst = worstOf(
    hull,
    (point) => point,
    (point) => fitted(art.fit, point),
  );
  return {
    plateId: plate.plateId,
    marksUsed: 0,
    dxMm,
    dyMm,
    rotationDeg: art.rotationDeg,
    rotationPlusMinusDeg: null,
    scale: art.scale,
    scalePlusMinus: null,
    residualMm: null,
    worstOffsetMm: worst?.displacementMm ?? Math.hypot(dxMm, dyMm),
    plusMinusMm: art.plusMinusMm,
    model: 'similarity',
    residuals: [],
    scaleX: art.scale,
    scaleY: art.scale,
    skewDeg: 0,
    movedMark: null,
    worstOnArt: worst,
    worstAfterFit: null,
    artFit: artFitOf(art, null, hull),
  };
}

function artFitOf(art: ArtFound, byMarks: Fit | null, hull: readonly PointMm[]): ArtFit {
  const { against, edges, scatterMm, rotationDeg, scale, plusMinusMm } = art;
  const offMarks =
    byMarks === null
      ? null
      : worstOf(
          hull,
          (point) => fitted(byMarks, point),
          (point) => fitted(art.fit, point),
        );
  return {
    againstPlateId: against,
    edges,
    scatterMm,
    ...shiftAt(art.fit, art.middle),
    rotationDeg,
    scale,
    plusMinusMm,
    offMarks,
  };
}

function shiftAt(fit: Fit, point: PointMm): { dxMm: number; dyMm: number } {
  const landed = fitted(fit, point);
  return { dxMm: landed.xMm - point.xMm, dyMm: landed.yMm - point.yMm };
}

function displaced(at: PointMm, should: PointMm, is: PointMm): Displaced {
  return { xMm: at.xMm, yMm: at.yMm, displacementMm: Math.hypot(is.xMm - should.xMm, is.yMm - should.yMm) };
}

/** The corner of a hull that two ways to lay the film put furthest apart: no point within it is further. */
function worstOf(
  hull: readonly PointMm[],
  should: (point: PointMm) => PointMm,
  is: (point: PointMm) => PointMm,
): Displaced | null {
  let worst: Displaced | null = null;
  for (const point of hull) {
    const here = displaced(point, should(point), is(point));
    if (worst === null || here.displacementMm > worst.displacementMm) worst = here;
  }
  return worst;
}
