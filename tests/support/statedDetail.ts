import type { ReadFilm } from '../../src/artwork/film.ts';
import type { PlateFacts } from '../../src/checks/ask.ts';
import { narrowReadings, spotReadings } from '../../src/checks/exactDetail.ts';
import type { Reading } from '../../src/findings/finding.ts';
import type { Detail } from '../../src/measurements/detail.ts';
import { measureDetail } from '../../src/measurements/measureDetail.ts';
import { measureOpacity } from '../../src/measurements/measureOpacity.ts';
import { drawFilm, gridAt } from './drawFilm.ts';

export interface StatedDetail {
  /** As measured on the pixels. */
  readonly detail: Detail;
  readonly lines: readonly Reading[];
  readonly gaps: readonly Reading[];
  readonly dots: readonly Reading[];
  readonly islands: readonly Reading[];
}

/** Draws one ink of a film, measures it and takes the readings of its fine detail. */
export async function statedDetail(film: ReadFilm, inkKey: string, dpi: number): Promise<StatedDetail> {
  const grid = gridAt(film, dpi);
  const drawn = (await drawFilm(film, [inkKey], grid)).get(inkKey)!;
  const plate = { ...drawn, id: 'p1', inkId: 'i1', filmId: 'f1', grid, verified: true };
  const detail = measureDetail(plate, { searchToMm: 1, refineBelowMm: 0.6 });
  const facts: PlateFacts = {
    id: 'p1',
    ink: { id: 'i1', name: inkKey, nameFrom: 'file', kind: 'spot', displayHex: '#000000', printed: true },
    film: { ...film, id: 'f1' },
    inkKey,
    grid,
    verified: true,
    doubts: [],
    detail,
    opacity: measureOpacity(plate),
    halftone: { regions: [], unclassified: [] },
  };
  return {
    detail,
    lines: narrowReadings(facts, 'lines', 0.35),
    gaps: narrowReadings(facts, 'gaps', 0.35),
    dots: spotReadings(facts, 'dots'),
    islands: spotReadings(facts, 'islands'),
  };
}
