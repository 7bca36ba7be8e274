import type { AlphaSample, BitmapRecipe, FlatColour, FlatSplit } from '../../raster/bitmap/bitmapRecipe.ts';
import { splitBands } from '../../raster/bitmap/splitBands.ts';
import { type SolidColour, type SolidSurvey, surveySolids } from './solidColours.ts';

/** More flat colours than this is no design for frames but a picture with shades. */
export const maxFlatColours = 24;
/** Share of the pixels the flat colours and the edges between them must explain. */
const leastExplainedRatio = 0.97;
/** Solid pixels a colour must have to be an ink on its own account. */
const leastSolidPx = 4;
/** Rounds in which colours of thin lines, which have no solid area, are added. */
const thinRounds = 6;
/** Radius in 0–255 within which a noisy picture's shades are one colour. */
const noisyRadius = 30;
/** Share of a noisy colour's solid area that must lie close to its mean; a shaded area is spread out. */
const leastFlatRatio = 0.8;
const closeRadius = 11;
/** Share of the picture that must lie inside areas of one colour before anything finer is looked at. */
const leastSolidRatio = 0.2;
/** Looking stops when more than this share of the pixels seen so far is unexplained. */
const hopelessRatio = 0.25;
const hopelessAfterRatio = 0.05;

export interface FlatColours {
  readonly split: FlatSplit;
  /** Pixels of each colour of `split.colours`. */
  readonly pixelCounts: readonly number[];
  readonly explainedRatio: number;
  /** Edges or areas are noisy, as in JPEG: the colours are means. */
  readonly noisy: boolean;
}

/** What a look at a picture in colours found; `flat` is null when it has shades and is a photograph. */
export interface ColourSearch {
  readonly flat: FlatColours | null;
  readonly survey: SolidSurvey;
}

/**
 * Finds the flat colours of a picture. Clean art gives its exact
 * colours, with antialiased edges or without; noisy art the means of its areas. White comes as ground, see-through too.
 */
export async function findFlatColours(
  bytes: Uint8Array,
  recipe: BitmapRecipe,
  samples: { readonly rgbSamples: readonly [number, number, number]; readonly alpha: AlphaSample | null },
  widthPx: number,
  heightPx: number,
  lossy: boolean,
): Promise<ColourSearch> {
  const survey = await surveySolids(bytes, recipe, samples, widthPx, heightPx);
  const attempts: (readonly [readonly SolidColour[] | null, boolean])[] = [
    [lossy ? null : exactColours(survey), false],
    [noisyColours(survey), true],
  ];
  for (const [solids, noisy] of attempts) {
    if (solids === null) continue;
    const found = await explain(bytes, recipe, samples, widthPx, survey, solids, noisy);
    if (found !== null) return { flat: found, survey };
  }
  return { flat: null, survey };
}

function exactColours(survey: SolidSurvey): readonly SolidColour[] | null {
  if (survey.exact === null) return null;
  const solids = survey.exact.filter((colour) => colour.solidPx >= leastSolidPx);
  return solids.length > maxFlatColours + 1 || !areMostlySolid(solids, survey) ? null : solids;
}

function areMostlySolid(colours: readonly SolidColour[], survey: SolidSurvey): boolean {
  const solidPx = colours.reduce((sum, colour) => sum + colour.solidPx, 0);
  return solidPx > 0 && solidPx >= leastSolidRatio * (survey.totalPx - survey.clearPx);
}

/** Gathers bins into areas around the largest; null when the areas are shaded or too many. */
function noisyColours(survey: SolidSurvey): readonly SolidColour[] | null {
  const least = Math.max(leastSolidPx * 4, survey.totalPx * 5e-5);
  const groups: { members: SolidColour[]; seed: SolidColour }[] = [];
  let total = 0;
  for (const bin of survey.bins) {
    total += bin.solidPx;
    const near = groups.find(({ seed }) => distance(seed, bin) <= noisyRadius);
    if (near !== undefined) near.members.push(bin);
    else groups.push({ members: [bin], seed: bin });
  }
  const means = groups.map(({ members }) => meanOf(members));
  const kept = means.filter((mean) => mean.solidPx >= least);
  if (kept.length > maxFlatColours + 1 || !areMostlySolid(kept, survey)) return null;
  let flat = 0;
  groups.forEach(({ members }, i) => {
    if (means[i].solidPx < least) return;
    const close = members.filter((member) => distance(member, means[i]) <= closeRadius);
    flat += close.reduce((sum, member) => sum + member.solidPx, 0);
  });
  return flat >= leastFlatRatio * total ? kept.map(rounded) : null;
}

async function explain(
  bytes: Uint8Array,
  recipe: BitmapRecipe,
  samples: Pick<FlatSplit, 'rgbSamples' | 'alpha'>,
  widthPx: number,
  survey: SolidSurvey,
  solids: readonly SolidColour[],
  noisy: boolean,
): Promise<FlatColours | null> {
  let colours: SolidColour[] = [...solids];
  for (let round = 0; round <= thinRounds; round++) {
    const split = splitOf(colours, samples, hasWhiteGround(survey), noisy);
    if (split.colours.filter((colour) => colour.key !== null).length > maxFlatColours + 1) return null;
    const counts = new Array<number>(split.colours.length).fill(0);
    const strangers = new Map<number, number>();
    let unexplained = 0;
    for await (const band of splitBands(bytes, recipe, split, widthPx)) {
      for (const colour of band.colourOf) counts[colour]++;
      unexplained += band.unexplained;
      const seenPx = (band.top + band.rows) * widthPx;
      if (seenPx > hopelessAfterRatio * survey.totalPx && unexplained > hopelessRatio * seenPx) return null;
      for (const [pixel, count] of band.strangers) strangers.set(pixel, (strangers.get(pixel) ?? 0) + count);
    }
    const stranger = noisy ? null : commonStranger(strangers, unexplained);
    if (stranger !== null && round < thinRounds) {
      colours = [...colours, stranger];
      continue;
    }
    const explainedRatio = 1 - unexplained / survey.totalPx;
    if (explainedRatio < leastExplainedRatio) return null;
    return { split, pixelCounts: counts, explainedRatio, noisy };
  }
  return null;
}

/** A colour that is on a good part of the pixels nothing explains: an ink of lines too thin to have an inside. */
function commonStranger(strangers: ReadonlyMap<number, number>, unexplained: number): SolidColour | null {
  let best = -1;
  let most = 0;
  for (const [pixel, count] of strangers) {
    if (count > most || (count === most && pixel < best)) {
      best = pixel;
      most = count;
    }
  }
  if (most < 12 || most < 0.1 * unexplained) return null;
  return { red: best >> 16, green: (best >> 8) & 255, blue: best & 255, solidPx: 0 };
}

function splitOf(
  colours: readonly SolidColour[],
  samples: Pick<FlatSplit, 'rgbSamples' | 'alpha'>,
  whiteGround: boolean,
  noisy: boolean,
): FlatSplit {
  const flat: FlatColour[] = [];
  if (samples.alpha !== null) flat.push({ key: null, red: 0, green: 0, blue: 0, clear: true });
  const white = { red: 255, green: 255, blue: 255, clear: false };
  let hasWhite = false;
  const inks: FlatColour[] = [];
  for (const { red, green, blue } of colours) {
    if (isWhite(red, green, blue, noisy)) hasWhite = true;
    else inks.push({ key: hexOf(red, green, blue), red, green, blue, clear: false });
  }
  if (whiteGround) flat.push({ key: null, ...white }, { key: 'white', ...white });
  else if (hasWhite) flat.push({ key: 'white', ...white });
  return { colours: [...flat, ...inks], tolerance: noisy ? 22 : 0, mixtures: true, ...samples };
}

/** White is paper unless the picture is see-through around it; a picture with alpha may still be opaque all over. */
function hasWhiteGround(survey: SolidSurvey): boolean {
  return survey.clearPx === 0 || (survey.border.pixel === 0xffffff && survey.border.ratio > 0.5);
}

function isWhite(red: number, green: number, blue: number, noisy: boolean): boolean {
  const least = noisy ? 246 : 252;
  return red >= least && green >= least && blue >= least;
}

export function hexOf(red: number, green: number, blue: number): string {
  return `#${((1 << 24) | (red << 16) | (green << 8) | blue).toString(16).slice(1)}`;
}

function distance(a: SolidColour, b: SolidColour): number {
  return Math.hypot(a.red - b.red, a.green - b.green, a.blue - b.blue);
}

function meanOf(members: readonly SolidColour[]): SolidColour {
  let solidPx = 0;
  let red = 0;
  let green = 0;
  let blue = 0;
  for (const member of members) {
    solidPx += member.solidPx;
    red += member.red * member.solidPx;
    green += member.green * member.solidPx;
    blue += member.blue * member.solidPx;
  }
  return { red: red / solidPx, green: green / solidPx, blue: blue / solidPx, solidPx };
}

function rounded({ red, green, blue, solidPx }: SolidColour): SolidColour {
  return { red: Math.round(red), green: Math.round(green), blue: Math.round(blue), solidPx };
}
