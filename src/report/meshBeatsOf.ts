import type { Halftone } from '../measurements/halftone.ts';
import { dotFormOf } from '../mesh/dotForm.ts';
import { dotSpectrum } from '../mesh/dotSpectrum.ts';
import { meshBeats } from '../mesh/meshBeats.ts';
import { meshToRulingRatio, usableTonesOfMesh } from '../mesh/toneRange.ts';
import { tonesInUse } from '../mesh/tonesInUse.ts';
import type { Mesh } from '../ticket/ticket.ts';
import type { ReportMeshBeats } from './reportJson.ts';

const mostBeats = 5;
export const mostParts = 50;
/** Longer than any print. */
const endlessMm = 1000;

/** What every part of a plate whose ruling was read makes with its mesh; nothing where no mesh is known. */
export function meshBeatsOf({ regions }: Halftone, mesh: Mesh | null): ReportMeshBeats[] {
  if (mesh === null) return [];
  return regions.slice(0, mostParts).flatMap((part, region): ReportMeshBeats[] => {
    const { kind, rulingLpi, angleDeg, toneMinPercent, toneMaxPercent } = part;
    if ((kind !== 'am' && kind !== 'ordered') || rulingLpi === null || angleDeg === null) return [];
    const dotForm = dotFormOf(part);
    const held = usableTonesOfMesh(dotForm, rulingLpi, mesh);
    const spectrum = dotSpectrum(dotForm, tonesInUse(toneMinPercent, toneMaxPercent));
    const beats = meshBeats({ rulingLpi, angleDeg, dotForm }, spectrum, mesh).slice(0, mostBeats);
    return [
      {
        region,
        meshRatio: meshToRulingRatio(mesh, rulingLpi),
        heldTonesPercent: [held.lightestPercent, held.darkestPercent],
        beats: beats.map(({ periodMm, ...beat }) => ({
          rulingOrder: beat.rulingOrder,
          meshOrder: beat.meshOrder,
          periodMm: periodMm < endlessMm ? periodMm : null,
          directionDeg: beat.directionDeg,
          modulationPercent: beat.modulationPercent,
          tonePercent: beat.tonePercent,
        })),
      },
    ];
  });
}
