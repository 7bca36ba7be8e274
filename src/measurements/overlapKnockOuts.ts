import type { FacedOutline } from '../raster/facedOutline.ts';
import type { KnockOut } from './overlap.ts';

/** So much of an outline must face the other ink for its shape to stand in an opening of the other. */
const leastFacedShare = 0.9;

/** Gathers the outlines that the other plate faces all round. */
export class KnockOuts {
  /** Shapes whose outline is walked, standing in openings of the other plate. */
  own: KnockOut = { count: 0, boundaryMm: 0, areaMm2: 0 };
  /** Shapes of the other plate, standing in openings of the plate that is walked. */
  other: KnockOut = { count: 0, boundaryMm: 0, areaMm2: 0 };

  take({ closed, facedShare, stretches, enclosedMm2 }: FacedOutline): void {
    if (!closed || facedShare < leastFacedShare) return;
    let boundaryMm = 0;
    let lapMm2 = 0;
    for (const { lengthMm, overlapMm } of stretches) {
      boundaryMm += lengthMm;
      lapMm2 += lengthMm * overlapMm;
    }
    if (enclosedMm2 > 0) this.own = added(this.own, boundaryMm, enclosedMm2);
    else this.other = added(this.other, boundaryMm, Math.max(0, lapMm2 - enclosedMm2));
  }
}

function added(knockOut: KnockOut, boundaryMm: number, areaMm2: number): KnockOut {
  return {
    count: knockOut.count + 1,
    boundaryMm: knockOut.boundaryMm + boundaryMm,
    areaMm2: knockOut.areaMm2 + areaMm2,
  };
}
