import type { PaintPart } from '../fixNotes/notePicture.ts';
import { cropPlate } from '../measurements/cropPlate.ts';
import type { PlateArchive } from '../plateArchive/openArchive.ts';
import { restorePlate } from '../plateArchive/restorePlate.ts';
import type { SeenPlate } from '../plates/plate.ts';
import { inkHex, platesInPrintOrder, rgbOf } from '../report/composite.ts';
import { paintLayers } from '../report/paintLayers.ts';
import { pngOf } from '../report/png.ts';
import type { ReportJson } from '../report/reportJson.ts';

/** Pixels of the plate to one of the picture, of which its tones are the mean. */
const finer = 4;

/**
 * Paints from the plates that were kept of a report, pixel by pixel as they are, where the picture beside it is too
 * coarse. Null where not all of them were kept. `open` is asked once a plate, when the first part is painted.
 */
export function artPartPainter(
  report: ReportJson,
  keptIds: ReadonlySet<string>,
  open: (plateId: string) => Promise<PlateArchive>,
): PaintPart | null {
  if (report.plates.length === 0 || report.plates.some(({ id }) => !keptIds.has(id))) return null;
  const restored = new Map<string, Promise<SeenPlate>>();
  const plateOf = (plate: ReportJson['plates'][number]) => {
    const known = restored.get(plate.id) ?? open(plate.id).then((archive) => restorePlate(archive, plate));
    restored.set(plate.id, known);
    return known;
  };
  return async (boxMm, sidePx) => {
    const layers = await Promise.all(
      platesInPrintOrder(report).map(async (plate) => ({
        image: cropPlate(await plateOf(plate), boxMm, finer * sidePx),
        colour: rgbOf(inkHex(report, plate.inkId)),
      })),
    );
    const ground = rgbOf(report.ticket.garmentHex);
    return pngOf((await paintLayers({ layers, ground, sidePx, inks: 'opaque' })).pixels);
  };
}
