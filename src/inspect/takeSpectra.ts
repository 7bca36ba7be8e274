import type { HalftoneRegion } from '../measurements/halftone.ts';
import { latticeSpectrum } from '../measurements/latticeSpectrum.ts';
import type { SeenPlate } from '../plates/plate.ts';
import { mostHalftoneParts } from '../report/halftoneFacts.ts';
import type { SpectrumOfPart } from '../report/pictures.ts';

/** The spectra of the halftoned parts that a report shows, each of a window that shows its lattice. */
export function takeSpectra(
  halftones: readonly {
    readonly id: string;
    readonly halftone: { readonly regions: readonly HalftoneRegion[] } | null;
  }[],
  plates: readonly SeenPlate[],
): SpectrumOfPart[] {
  return halftones.flatMap(({ id, halftone }) => {
    const plate = plates.find((one) => one.id === id);
    if (plate === undefined || halftone === null) return [];
    return halftone.regions.slice(0, mostHalftoneParts).flatMap((part, region): SpectrumOfPart[] => {
      const spectrum = latticeSpectrum(plate, part);
      return spectrum === null ? [] : [{ plateId: id, region, ...spectrum }];
    });
  });
}
