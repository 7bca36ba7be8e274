import type { ReportPlacement } from '../report/reportJson.ts';
import type { ArtPlace } from './artPlace.ts';

export interface Extent {
  readonly from: number;
  readonly to: number;
}

/** A length that is written beside the drawing, between two places of the frame; row 0 is nearest to the field. */
export interface Span extends Extent {
  readonly axis: 'across' | 'down';
  readonly row: number;
  readonly lengthMm: number;
}

/** What is drawn of the garment, in the mm of `ArtPlace`. */
export interface PlaceFrame {
  readonly across: Extent;
  readonly down: Extent;
  /** The part of it that is garment: it ends at the seams that are known. */
  readonly garment: { readonly across: Extent; readonly down: Extent };
  /** The corner of the art. */
  readonly leftMm: number;
  readonly topMm: number;
  readonly spans: readonly Span[];
}

/** Of the garment is shown so much around the art where no seam ends it, as a share of the art's side. */
const around = 0.15;
const leastAroundMm = 20;

/** The part of the garment that is drawn: to its seams where they are known, else some way around the art. */
export function frameOf(art: ArtPlace, given: ReportPlacement): PlaceFrame {
  // What is not placed in a direction is drawn in the middle, without any length in it.
  const leftMm = art.leftMm ?? -art.widthMm / 2;
  const topMm = art.topMm ?? 0;
  const [right, bottom] = [leftMm + art.widthMm, topMm + art.heightMm];
  const [wide, high] = [art.widthMm, art.heightMm].map((side) => Math.max(leastAroundMm, side * around));
  const centre = art.centreMm ?? leftMm;
  const across = {
    from: art.leftSeamMm ?? Math.min(leftMm, centre) - wide,
    to: art.rightSeamMm ?? Math.max(right, centre) + wide,
  };
  const down = { from: art.collarMm ?? topMm - high, to: art.hemMm ?? bottom + high };
  return {
    across: { from: Math.min(across.from, leftMm), to: Math.max(across.to, right) },
    down: { from: Math.min(down.from, topMm), to: Math.max(down.to, bottom) },
    garment: { across, down },
    ...{ leftMm, topMm },
    spans: [...spansDown(art, given, topMm), ...spansAcross(art, given, leftMm)],
  };
}

function spansDown(art: ArtPlace, given: ReportPlacement, topMm: number): Span[] {
  const bottom = topMm + art.heightMm;
  const span = (from: number, to: number, lengthMm: number): Span => ({ axis: 'down', row: 0, from, to, lengthMm });
  const { belowCollarMm, aboveHemMm } = given;
  return [
    ...(belowCollarMm !== undefined && belowCollarMm > 0 ? [span(topMm - belowCollarMm, topMm, belowCollarMm)] : []),
    span(topMm, bottom, art.heightMm),
    ...(aboveHemMm !== undefined && aboveHemMm > 0 ? [span(bottom, bottom + aboveHemMm, aboveHemMm)] : []),
  ];
}

function spansAcross(art: ArtPlace, given: ReportPlacement, leftMm: number): Span[] {
  const right = leftMm + art.widthMm;
  const span = (from: number, to: number, row: number, lengthMm: number): Span => ({
    ...{ axis: 'across', row, lengthMm },
    from: Math.min(from, to),
    to: Math.max(from, to),
  });
  const { fromCentreMm, fromSideSeamMm, side } = given;
  const middle = leftMm + art.widthMm / 2;
  const seam = side === 'left' ? art.leftSeamMm : art.rightSeamMm;
  const isFromSeam = fromSideSeamMm !== undefined && fromSideSeamMm > 0 && seam !== null;
  return [
    span(leftMm, right, 0, art.widthMm),
    ...(fromCentreMm !== undefined && fromCentreMm > 0 ? [span(0, middle, 1, fromCentreMm)] : []),
    ...(isFromSeam ? [span(seam, side === 'left' ? leftMm : right, 1, fromSideSeamMm)] : []),
  ];
}
