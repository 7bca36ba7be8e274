import type { Artwork, Film } from '../artwork/film.ts';
import { isDarkGround } from '../colour/lab.ts';
import type { ResolvedTicket } from '../ticket/ticket.ts';
import { chargeGrams, estimateInk, plastisolGramsPerCm3, wasteRatio } from './estimateInk.ts';
import type { PlannedInk } from './orderInks.ts';

/** Squeegee past the image on each side, mm: ½ to 1 in, a published placement guide. */
const squeegeeOverMm = [13, 25] as const;
/** Room inside the frame beyond the image, mm: 2 in at the sides, 3 in at the ends of the stroke; common practice. */
const sideClearanceMm = 50;
const endClearanceMm = 75;
/** Least room from image to platen edge, mm: ¼ in, the same placement guide. */
const leastPlatenMarginMm = 6;
const wholeMm = (mm: number): string => `${mm.toFixed(0)} mm`;

/** The image the press plan is made for. */
interface ImageSize {
  readonly widthMm: number;
  readonly heightMm: number;
  readonly words: string;
}

/** The notes of size: squeegee, frame and platen. Says so when the size is not known. */
export function sizeNotes(artwork: Artwork, ticket: ResolvedTicket): readonly string[] {
  const image = imageSize(artwork, ticket);
  if (image === null)
    return ['The size of the image is not known, so squeegee, frame and platen are not checked here.'];
  const { widthMm, heightMm, words } = image;
  const [least, most] = squeegeeOverMm;
  const notes = [
    `Squeegee: ${wholeMm(widthMm + 2 * least)} to ${wholeMm(widthMm + 2 * most)}, which is ${least} to ${most} mm past ${words} on each side.`,
  ];
  const insideWidthMm = widthMm + 2 * sideClearanceMm;
  const insideHeightMm = heightMm + 2 * endClearanceMm;
  const need = `${insideWidthMm.toFixed(0)} × ${insideHeightMm.toFixed(0)} mm inside`;
  if (ticket.frames.length === 0) {
    notes.push(
      `Frame: at least ${need} (${sideClearanceMm} mm at each side, ${endClearanceMm} mm at each end of the stroke; common practice).`,
    );
  } else {
    const fitting = ticket.frames
      .filter((frame) => frame.insideWidthMm >= insideWidthMm && frame.insideHeightMm >= insideHeightMm)
      .sort((a, b) => a.insideWidthMm * a.insideHeightMm - b.insideWidthMm * b.insideHeightMm);
    notes.push(
      fitting.length > 0
        ? `Frame: ${fitting[0].name} is the smallest of the shop’s frames with ${need}.`
        : `Frame: none of the shop’s frames has ${need}.`,
    );
  }
  notes.push(platenNote(image, ticket));
  return notes;
}

function platenNote(image: ImageSize, ticket: ResolvedTicket): string {
  const [platenWidthMm, platenHeightMm] = ticket.press.platenMm.value;
  const sideMm = (platenWidthMm - image.widthMm) / 2;
  const endMm = (platenHeightMm - image.heightMm) / 2;
  const margins = `${sideMm.toFixed(0)} mm at the sides and ${endMm.toFixed(0)} mm at the ends`;
  const platen = `Platen ${platenWidthMm} × ${platenHeightMm} mm`;
  const leastMm = Math.min(sideMm, endMm);
  const wantedMm = ticket.limits.platenMarginMm.value;
  if (leastMm < 0) return `${platen}: ${image.words} is larger than the platen.`;
  if (leastMm >= wantedMm) return `${platen}: ${image.words}, centred, leaves ${margins}.`;
  const verdict =
    leastMm < leastPlatenMarginMm
      ? `less than the ${leastPlatenMarginMm} mm that is the practical least`
      : `less than the ${wantedMm} mm wanted`;
  return `${platen}: ${image.words}, centred, leaves only ${margins}, ${verdict}.`;
}

/** An estimate of the ink for each frame whose mesh is known, when the quantity is; empty otherwise. */
export function inkNotes(artwork: Artwork, ticket: ResolvedTicket, inks: readonly PlannedInk[]): readonly string[] {
  const quantity = ticket.print.quantity?.value;
  if (quantity === undefined) return [];
  const estimates = inks.flatMap(({ ink, frame, coveragePercent }) => {
    const film = filmOf(artwork, ink.id);
    if (frame.mesh === null || coveragePercent === null || !film?.scaleKnown) return [];
    const areaMm2 = film.widthMm * film.heightMm;
    const { gramsPerPrint, gramsForJob } = estimateInk({ areaMm2, coveragePercent, mesh: frame.mesh.value, quantity });
    return [`${ink.name} ${gramsPerPrint.toFixed(1)} g a print, ${roundGrams(gramsForJob)} g in all`];
  });
  if (estimates.length === 0) return [];
  return [
    `Ink, an estimate only: ${estimates.join('; ')}. Taken for it: ${quantity} pieces, the mesh’s whole theoretical ink volume by formula, plastisol at ${plastisolGramsPerCm3.toFixed(2)} g/cm³, ${wasteRatio * 100} % waste; ${chargeGrams[0]} to ${chargeGrams[1]} g more to charge each frame. Water-based ink weighs less.`,
  ];
}

/** The notes on what lies on what: bases on dark garments, inks that touch, large light areas, meshes not given. */
export function inkPairNotes(
  ticket: ResolvedTicket,
  inks: readonly PlannedInk[],
  touching: readonly (readonly [string, string])[],
): readonly string[] {
  const notes: string[] = [];
  const hasBase = inks.some(({ role }) => role === 'underbase');
  if (!hasBase && isDarkGround(ticket.garment.colourHex.value) && inks.some(({ lightness }) => lightness >= 40)) {
    notes.push(
      'The garment is dark and no frame is an underbase: light inks will look dull unless they are opaque by themselves.',
    );
  }
  const wet = touching.filter(([one, other]) => [one, other].every((id) => inks.some(isWetInk(id))));
  if (wet.length > 0) {
    const nameOf = (id: string): string => inks.find(({ ink }) => ink.id === id)?.ink.name ?? id;
    const shown = wet.slice(0, 6).map(([one, other]) => `${nameOf(one)} and ${nameOf(other)}`);
    const more = wet.length > shown.length ? `, and ${wet.length - shown.length} more pairs` : '';
    notes.push(
      `Wet beside wet: ${shown.join(', ')}${more}. Where they overlap keep the deposit low, or flash between them.`,
    );
  }
  const colours = inks.filter(({ role }) => role === 'colour' || role === 'key');
  for (const [index, light] of colours.entries()) {
    const tiny = colours.slice(index + 1).find((later) => (later.coveragePercent ?? 100) <= 2);
    if (light.lightness >= 60 && (light.coveragePercent ?? 0) >= 30 && tiny) {
      notes.push(
        `${light.ink.name} is large and light, ${tiny.ink.name} is small and prints on after it: if ${light.ink.name} is picked up by the later frames, print it last.`,
      );
      break;
    }
  }
  const highlight = inks.find(({ role }) => role === 'highlight');
  if (highlight && inks.length > 1) {
    notes.push(`If ${highlight.ink.name} sinks into the wet colours, flash before it; that takes one more station.`);
  }
  const meshless = inks.filter(({ frame }) => frame.mesh === null).map(({ ink }) => ink.name);
  if (meshless.length > 0) {
    const whom = meshless.length === inks.length && inks.length > 2 ? 'any of the inks' : meshless.join(', ');
    notes.push(`No mesh is given for ${whom}.`);
  }
  const assumed = inks.filter(({ frame }) => frame.mesh?.value.threadAssumed).map(({ ink }) => ink.name);
  if (assumed.length > 0)
    notes.push(`The thread of the mesh is assumed, the usual one for its count: ${assumed.join(', ')}.`);
  return notes;
}

function isWetInk(id: string): (entry: PlannedInk) => boolean {
  return ({ ink, role }) => ink.id === id && role !== 'underbase';
}

function imageSize(artwork: Artwork, ticket: ResolvedTicket): ImageSize | null {
  const { widthMm, heightMm } = ticket.print;
  if (widthMm && heightMm) {
    const words = `the print of ${widthMm.value} × ${heightMm.value} mm`;
    return { widthMm: widthMm.value, heightMm: heightMm.value, words };
  }
  const films = artwork.films.filter((film) => film.scaleKnown);
  if (films.length === 0) return null;
  const filmWidthMm = Math.max(...films.map((film) => film.widthMm));
  const filmHeightMm = Math.max(...films.map((film) => film.heightMm));
  const words = `the whole film of ${filmWidthMm.toFixed(0)} × ${filmHeightMm.toFixed(0)} mm (the ticket gives no print size)`;
  return { widthMm: filmWidthMm, heightMm: filmHeightMm, words };
}

function filmOf(artwork: Artwork, inkId: string): Film | undefined {
  const source = artwork.plateSources.find((candidate) => candidate.inkId === inkId);
  return artwork.films.find((film) => film.id === source?.filmId);
}

function roundGrams(grams: number): string {
  return grams < 10 ? grams.toFixed(1) : String(Math.round(grams / 5) * 5);
}
