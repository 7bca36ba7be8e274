import type { Plate } from '../plates/plate.ts';
import type { Halftone } from './halftone.ts';

/** The halftoned parts of a plate. Finds none yet. */
export function measureHalftone(_plate: Plate): Halftone {
  return { regions: [], unclassified: [] };
}
