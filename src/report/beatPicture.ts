import type { MeshBeat } from '../findings/finding.ts';
import { inkThroughMesh } from '../mesh/inkThroughMesh.ts';
import { nameMesh } from '../mesh/meshLookup.ts';
import { inkHex, rgbOf } from './composite.ts';
import { type CropPicture, cropSideMm, groundFor, unitsPerMm } from './cropPicture.ts';
import type { Entry } from './entry.ts';
import { scaleBar } from './overArt.ts';
import { paintLayers } from './paintLayers.ts';
import type { ToneImage } from './pictures.ts';
import type { ReportJson } from './reportJson.ts';

const pitchMm = 0.125;
const sidePx = Math.round(cropSideMm / pitchMm);

/**
 * The beat of a finding on moiré, at its true size: the tint it is strongest in, printed through the mesh dot by dot on
 * paper, its swing drawn strong enough to be seen. Null for findings that tell of no beat.
 */
export async function beatPictureOf(report: ReportJson, entry: Entry): Promise<CropPicture | null> {
  const { finding, isBrief } = entry;
  const beat = finding?.beat;
  if (finding === null || beat === undefined || isBrief) return null;
  const { image, timesStronger } = beatTones(beat);
  const ink = report.inks.find(({ name }) => name === finding.inkNames[0]);
  const colour = rgbOf(inkHex(report, ink?.id ?? ''));
  const ground = groundFor(rgbOf(report.ticket.garmentHex), [colour]);
  const picture = await paintLayers({ layers: [{ image, colour }], ground, sidePx, inks: 'opaque' });
  const side = cropSideMm * unitsPerMm;
  const { stretchPercent, periodMm } = beat.drawn;
  const bands = `bands ${periodMm.toFixed(1)}\u00a0mm apart`;
  const through = `${Math.round(beat.tonePercent)}\u00a0% through ${nameMesh(beat.mesh)}, stretched ${stretchPercent.toFixed(1)}\u00a0%`;
  return {
    picture,
    width: side,
    height: side,
    imageX: 0,
    imageY: 0,
    imageWidth: picture.widthMm * unitsPerMm,
    imageHeight: picture.heightMm * unitsPerMm,
    overlay: scaleBar(side, side, unitsPerMm),
    placeIndex: null,
    enlargement: '1×',
    caption: `Reckoned, at true size: ${bands}. ${through}; contrast drawn ${timesStronger.toFixed(0)}×`,
    label: `The beat of ${finding.inkNames[0]} with its mesh at true size: ${bands}`,
  };
}

/** Tones around half black, lighter where dots lose more of their ink to threads. */
export function beatTones(beat: MeshBeat): { readonly image: ToneImage; readonly timesStronger: number } {
  const { rulingLpi, angleDeg, dotForm, tonePercent, mesh, drawn } = beat;
  const ruling = { rulingLpi, angleDeg, dotForm };
  const ink = inkThroughMesh(ruling, tonePercent, mesh, drawn, cropSideMm, cropSideMm);
  const shares = new Float64Array(sidePx * sidePx);
  let strongest = 0;
  for (let row = 0; row < sidePx; row++) {
    for (let column = 0; column < sidePx; column++) {
      // Angles are counter-clockwise as seen, so y runs up and rows down.
      const away = ink.at((column + 0.5) * pitchMm, cropSideMm - (row + 0.5) * pitchMm) - 1;
      shares[row * sidePx + column] = away;
      strongest = Math.max(strongest, Math.abs(away));
    }
  }
  const timesStronger = Math.max(1, Math.floor(drawnSwing / Math.max(strongest, drawnSwing / mostTimes)));
  const tones = Uint8Array.from(shares, (away) => Math.round(255 * (0.5 + 0.5 * away * timesStronger)));
  return { image: { widthPx: sidePx, heightPx: sidePx, pitchXMm: pitchMm, pitchYMm: pitchMm, tones }, timesStronger };
}

/** How far from the mean the strongest place is drawn, as a share, and by how much at most a beat is drawn too strong. */
const drawnSwing = 0.9;
const mostTimes = 30;
