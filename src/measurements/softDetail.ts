import type { Plate } from '../plates/plate.ts';
import type { Detail, NarrowPlace, SpotPlace } from './detail.ts';
import { softSpotOf } from './softSpot.ts';
import { softWidthOf } from './softWidth.ts';

/**
 * Fine detail with what the tones of a plate know better than its pixels cut at half tone: where edges are grey, widths
 * and sizes between the pixels, and how soft the edges are. On a plate without tones all stays as it is.
 */
export function withTones(plate: Plate, detail: Detail): Detail {
  if (plate.tone === null) return detail;
  const widths = (places: readonly NarrowPlace[], inverted: boolean) =>
    places.map((place): NarrowPlace => {
      const soft = softWidthOf(plate, place, inverted);
      if (soft === null || disagrees(soft.widthMm, place.minWidthMm, soft, place)) return place;
      const { widthMm, plusMinusMm, softOverMm } = soft;
      return {
        ...place,
        minWidthMm: widthMm,
        medianWidthMm: Math.max(widthMm, place.medianWidthMm),
        plusMinusMm,
        ...(softOverMm === null ? {} : { softOverMm }),
      };
    });
  const sizes = (places: readonly SpotPlace[], inverted: boolean) =>
    places.map((place): SpotPlace => {
      const soft = softSpotOf(plate, place, inverted);
      const { equivalentDiameterMm } = place;
      const isOther = soft === null || disagrees(soft.equivalentDiameterMm, equivalentDiameterMm, soft, place);
      return isOther ? place : { ...place, ...soft };
    });
  const lines = widths(detail.lines, false).sort(byWidth);
  const gaps = widths(detail.gaps, true).sort(byWidth);
  const dots = sizes(detail.dots, false).sort(bySize);
  const islands = sizes(detail.islands, true).sort(bySize);
  return {
    ...detail,
    lines,
    gaps,
    dots,
    islands,
    minLineMm: lines.find(({ kind }) => kind === 'line')?.minWidthMm ?? null,
    minGapMm: gaps.find(({ kind }) => kind === 'line')?.minWidthMm ?? null,
    minDotMm: dots[0]?.equivalentDiameterMm ?? null,
    minIslandMm: islands[0]?.equivalentDiameterMm ?? null,
  };
}

interface WithBar {
  readonly plusMinusMm: number;
}

/** Both cannot be of one thing: what was looked at between the pixels is another. */
function disagrees(aMm: number, bMm: number, a: WithBar, b: WithBar): boolean {
  return Math.abs(aMm - bMm) > a.plusMinusMm + b.plusMinusMm;
}

function byWidth(a: NarrowPlace, b: NarrowPlace): number {
  return a.minWidthMm - b.minWidthMm || a.yMm - b.yMm || a.xMm - b.xMm;
}

function bySize(a: SpotPlace, b: SpotPlace): number {
  return a.equivalentDiameterMm - b.equivalentDiameterMm || a.boxMm.yMm - b.boxMm.yMm || a.boxMm.xMm - b.boxMm.xMm;
}
