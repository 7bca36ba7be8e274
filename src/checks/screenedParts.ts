import type { Unmeasured } from '../findings/finding.ts';
import { shareWithinBoxes } from '../geometry/box.ts';
import type { PlateFacts } from './ask.ts';
import type { LeftToOthers } from './check.ts';
import { plateUnmeasured } from './subject.ts';

/** Share of the screened area that edges and tiles may leave between the two ways of measuring it. */
const mostUnread = 0.1;

/**
 * Screened parts are left out of the lists of lines and spots. Those that were read as halftone are left to the checks of
 * halftones; of the others it is said that nothing judges them.
 */
export function screenedParts(plate: PlateFacts): (LeftToOthers | Unmeasured)[] {
  const { sharePercent, boxesMm } = plate.detail.screened;
  if (sharePercent <= 0) return [];
  const { widthPx, heightPx, pitchXMm, pitchYMm } = plate.grid;
  const screenedMm2 = (sharePercent / 100) * widthPx * pitchXMm * heightPx * pitchYMm;
  const halftones = plate.halftone.regions.filter(({ kind }) => kind !== 'pattern');
  const readMm2 = halftones.reduce((sum, { boxMm, areaMm2 }) => sum + areaMm2 * shareWithinBoxes(boxMm, boxesMm), 0);
  const unreadMm2 = screenedMm2 - readMm2;
  const name = plate.ink.name;
  const said: (LeftToOthers | Unmeasured)[] = [];
  if (readMm2 > 0) {
    said.push({
      leftToOthers: `${area(Math.min(readMm2, screenedMm2))} of ${name} is halftone. Its dots are judged neither as lines nor as spots: whether they print is for the checks of halftones to say, of their tones, edges, ruling and beats.`,
    });
  }
  if (unreadMm2 > mostUnread * screenedMm2) {
    said.push(
      plateUnmeasured(
        plate,
        `${area(unreadMm2)} of ${name} is full of small dots or holes that were not read as halftone. No check judges them, neither as lines and spots nor as tones.`,
      ),
    );
  }
  return said;
}

/** `62 mm²`, from ten square centimetres on `152 cm²`. */
function area(mm2: number): string {
  return mm2 < 1000 ? `${Math.max(1, Math.round(mm2))} mm²` : `${Math.round(mm2 / 100)} cm²`;
}
