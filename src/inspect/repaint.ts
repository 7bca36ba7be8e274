import { previewPlate } from '../measurements/previewPlate.ts';
import type { PlateArchive } from '../plateArchive/openArchive.ts';
import { restorePlate } from '../plateArchive/restorePlate.ts';
import type { Inspection } from '../report/inspection.ts';
import type { ReportJson } from '../report/reportJson.ts';
import { previewPx } from './measureJob.ts';
import { takeMarkPictures } from './takeMarkPictures.ts';
import { takePictures } from './takePictures.ts';
import { takeSpectra } from './takeSpectra.ts';

/** The pictures of a report taken once more, of the plates that were kept of it by their ids. */
export async function repaint(report: ReportJson, archives: ReadonlyMap<string, PlateArchive>): Promise<Inspection> {
  const known = report.plates.filter(({ id }) => archives.has(id));
  if (known.length < report.plates.length) return { report, pictures: { plates: new Map(), crops: [] } };
  const plates = await Promise.all(known.map((plate) => restorePlate(archives.get(plate.id)!, plate)));
  const previews = new Map(plates.map((plate) => [plate.id, previewPlate(plate, previewPx)]));
  const marks = known.map(({ id, marks: own }) => ({ plateId: id, marks: own }));
  return {
    report,
    pictures: {
      ...takePictures(report, plates, previews, report.checks),
      marks: takeMarkPictures(marks, plates),
      spectra: takeSpectra(known, plates),
    },
  };
}
