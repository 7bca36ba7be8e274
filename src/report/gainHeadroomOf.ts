import type { Halftone } from '../measurements/halftone.ts';
import { finestIslandMm } from '../mesh/detailRules.ts';
import { dotFormOf } from '../mesh/dotForm.ts';
import { gainHeadroom } from '../mesh/gainHeadroom.ts';
import { usableTonesOfMesh } from '../mesh/toneRange.ts';
import type { Mesh } from '../ticket/ticket.ts';
import { mostParts } from './meshBeatsOf.ts';
import type { ReportGainHeadroom } from './reportJson.ts';

/** What is left for dots to gain in each part of a plate whose ruling and tones were read. */
export function gainHeadroomOf({ regions }: Halftone, mesh: Mesh | null): ReportGainHeadroom[] {
  return regions.slice(0, mostParts).flatMap((part, region): ReportGainHeadroom[] => {
    const { kind, rulingLpi, toneMaxPercent, tonePlusMinusPercent } = part;
    // A matrix spreads its dots over the cell: what is clear between them has no one size.
    if (kind !== 'am' || rulingLpi === null || toneMaxPercent === null) return [];
    const form = dotFormOf(part);
    const smallestHoleMm = mesh === null ? null : finestIslandMm(mesh);
    const at = (percent: number) => gainHeadroom(form, rulingLpi, Math.min(100, percent), smallestHoleMm);
    const { closesUm, holdsUm } = at(toneMaxPercent);
    const further = at(toneMaxPercent - tonePlusMinusPercent).closesUm - closesUm;
    const sooner = closesUm - at(toneMaxPercent + tonePlusMinusPercent).closesUm;
    const held = mesh === null ? null : usableTonesOfMesh(form, rulingLpi, mesh).darkestPercent;
    return [
      {
        region,
        darkestPercent: toneMaxPercent,
        closesUm,
        holdsUm,
        plusMinusUm: Math.max(further, sooner),
        tonePercent: held === null ? null : held - toneMaxPercent,
      },
    ];
  });
}
