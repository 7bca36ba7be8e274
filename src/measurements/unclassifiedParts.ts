import { shareWithinBoxes } from '../geometry/box.ts';
import type { Detail } from './detail.ts';
import type { Halftone } from './halftone.ts';

/** A part is read when its halftones come to this share of it, the tiles along its edges left out: dots end within them. */
const leastRead = 0.9;
const whyUnread =
  'Small dots or holes here lie on no lattice, are of no one size, or are too few: they were not read as halftone.';

/** The screened parts of a plate, full of small dots or holes, that its halftones do not account for. */
export function unclassifiedParts(
  { boxesMm, areasMm2, innerAreasMm2 }: Pick<Detail['screened'], 'boxesMm' | 'areasMm2' | 'innerAreasMm2'>,
  regions: Halftone['regions'],
): Halftone['unclassified'] {
  return boxesMm.flatMap((boxMm, index) => {
    const readMm2 = regions.reduce((sum, part) => sum + part.areaMm2 * shareWithinBoxes(part.boxMm, [boxMm]), 0);
    if (readMm2 > 0 && readMm2 >= leastRead * innerAreasMm2[index]) return [];
    const why = readMm2 > 0 ? `${whyUnread} Other dots here were.` : whyUnread;
    return [{ boxMm, areaMm2: areasMm2[index] - readMm2, why }];
  });
}
