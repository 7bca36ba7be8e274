import { filmBlack, lightTable } from './composite.ts';
import { type CropPicture, cropSideMm, unitsPerMm, wholePicture } from './cropPicture.ts';
import { fixed } from './format.ts';
import { partKey, type ShownHalftone, shownHalftones } from './halftoneFacts.ts';
import type { Inspection } from './inspection.ts';
import { inkNameOf } from './meetings.ts';
import { paintLayers } from './paintLayers.ts';
import type { SpectrumOfPart } from './pictures.ts';
import type { ReportJson } from './reportJson.ts';
import { circle, line, type Shape } from './shapes.ts';

const picturePx = 484;
const foundHex = '#d02f7c';
const ringRadius = 3.4;
const mostOrder = 3;

/** The spectra of halftoned parts with the frequencies of the lattice read ringed, by `partKey`. */
export async function spectrumPicturesOf({ report, pictures }: Inspection): Promise<Map<string, CropPicture>> {
  const shown = shownHalftones(report);
  const drawn = await Promise.all(
    (pictures.spectra ?? []).map(async (spectrum) => {
      const of = shown.find(({ plate, region }) => plate.id === spectrum.plateId && region === spectrum.region);
      if (of === undefined) return null;
      return [partKey(of.plate.id, of.region), await spectrumPicture(report, of, spectrum)] as const;
    }),
  );
  return new Map(drawn.filter((one) => one !== null));
}

async function spectrumPicture(
  report: ReportJson,
  { plate, part }: ShownHalftone,
  { image, reachLpi }: SpectrumOfPart,
): Promise<CropPicture> {
  const layers = [{ image, colour: filmBlack }];
  const picture = await paintLayers({ layers, ground: lightTable, sidePx: picturePx, inks: 'seeThrough' });
  const side = cropSideMm * unitsPerMm;
  const ruling = `${fixed(part.rulingLpi!, 1)} lpi at ${fixed(part.angleDeg!, 1)}°`;
  return {
    ...wholePicture(picture, side, side),
    overlay: latticeRings(part.rulingLpi!, part.angleDeg!, part.dotShape === 'line', reachLpi, side),
    enlargement: '',
    caption: `Spectrum to ${fixed(reachLpi, 0)} lpi, ${ruling} ringed`,
    label: `Spectrum of ${inkNameOf(report, plate.id)}; the lattice read, ${ruling}, is ringed`,
  };
}

/** A ring around each frequency of the lattice within reach, and a small cross at no frequency; the angle runs up. */
function latticeRings(rulingLpi: number, angleDeg: number, isLines: boolean, reachLpi: number, side: number): Shape[] {
  // Lines repeat across the way they run.
  const angle = ((angleDeg + (isLines ? 90 : 0)) * Math.PI) / 180;
  const step = ((rulingLpi / reachLpi) * side) / 2;
  const [right, down] = [step * Math.cos(angle), -step * Math.sin(angle)];
  const middle = side / 2;
  const across = isLines ? 0 : mostOrder;
  let d = line(middle - 2, middle, middle + 2, middle) + line(middle, middle - 2, middle, middle + 2);
  for (let k = -mostOrder; k <= mostOrder; k++) {
    for (let l = -across; l <= across; l++) {
      const x = middle + k * right - l * down;
      const y = middle + k * down + l * right;
      const isInside = Math.min(x, y) > ringRadius && Math.max(x, y) < side - ringRadius;
      if ((k !== 0 || l !== 0) && isInside) d += circle(x, y, ringRadius);
    }
  }
  return [
    { kind: 'path', d, fill: 'none', stroke: '#ffffff', strokeWidth: 1.8, opacity: 0.7 },
    { kind: 'path', d, fill: 'none', stroke: foundHex, strokeWidth: 0.8 },
  ];
}
