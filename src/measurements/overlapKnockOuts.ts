import type { KnockOut } from './overlap.ts';
import type { Profile } from './overlapProfile.ts';
import type { Stretch } from './overlapStretches.ts';

/** So much of an outline must face the other ink for its shape to stand in an opening of the other. */
const facedShare = 0.9;

/** Gathers the outlines that the other plate faces all round. */
export class KnockOuts {
  /** Shapes whose outline is walked, standing in openings of the other plate. */
  own: KnockOut = { count: 0, boundaryMm: 0, areaMm2: 0 };
  /** Shapes of the other plate, standing in openings of the plate that is walked. */
  other: KnockOut = { count: 0, boundaryMm: 0, areaMm2: 0 };

  /** Takes an outline with the stretches it was cut into, which hold so many of its samples. */
  take(profile: Profile, stretches: readonly Stretch[], from: number, samples: number): void {
    if (!profile.closed || samples < facedShare * profile.length) return;
    let boundaryMm = 0;
    let lapMm2 = 0;
    for (let k = from; k < stretches.length; k++) {
      boundaryMm += stretches[k].lengthMm;
      lapMm2 += stretches[k].lengthMm * stretches[k].overlapMm;
    }
    const enclosedMm2 = enclosedAreaMm2(profile);
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

/** Area within a closed outline: positive where the ink lies inside it, negative for an opening in the ink. */
function enclosedAreaMm2({ xMm, yMm, length }: Profile): number {
  let twice = 0;
  for (let i = 0; i < length; i++) {
    const next = i + 1 < length ? i + 1 : 0;
    twice += xMm[i] * yMm[next] - xMm[next] * yMm[i];
  }
  return twice / 2;
}
