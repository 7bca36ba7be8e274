import { converter } from 'culori';
import type { FilmInk } from '../../artwork/ink.ts';
import type { HiddenReason, Leaf, Swatch } from './displayList.ts';
import { isGenericLabel } from './labels.ts';
import { swatchesOf } from './paints.ts';
import type { SvgElement } from './svgElement.ts';
import { paintsOf } from './texts.ts';

export const whiteKey = 'white';
export const registrationKey = 'registration';

export interface InkShare {
  readonly key: string;
  /** 1 = solid. */
  readonly tintRatio: number;
}

export interface InkTable {
  readonly inks: readonly FilmInk[];
  /** Why leaves are not seen, with regard to what is an ink. */
  readonly hidden: readonly (HiddenReason | null)[];
  /** The ink a colour of a leaf is printed with; null for white, which only knocks out. */
  shareOf(leaf: Leaf, swatch: Swatch): InkShare | null;
}

const toLab = converter('lab');

/**
 * Which colours are inks: those the file names, by a named paint or by the house's convention; layers that paint one
 * colour of their own name it; every other solid colour that is seen is an ink without a name. Unnamed white is none.
 */
export function decideInks(leaves: readonly Leaf[], hidden: readonly (HiddenReason | null)[]): InkTable {
  const named = new Map<string, { strongest: number; hex: string; used: boolean }>();
  const flat = new Map<string, boolean>();
  let whiteUsed = false;
  leaves.forEach((leaf) => {
    const isUsed = hidden[leaf.index] === null;
    for (const swatch of leafSwatches(leaf)) {
      const name = nameOf(leaf, swatch);
      if (name !== null) {
        const strength = strengthOf(swatch.colour.hex);
        const entry = named.get(name) ?? { strongest: -1, hex: swatch.colour.hex, used: false };
        if (strength > entry.strongest) Object.assign(entry, { strongest: strength, hex: swatch.colour.hex });
        named.set(name, { ...entry, used: entry.used || isUsed });
      } else if (swatch.colour.hex === '#ffffff') whiteUsed ||= isUsed || hidden[leaf.index] === 'sameAsGround';
      else if (isUsed) flat.set(swatch.colour.hex, true);
    }
  });
  const layerNames = namesByLayer(leaves, hidden, new Set(named.keys()));
  const inks: FilmInk[] = [];
  for (const [name, { hex, used }] of named) {
    const registration = isRegistration(name);
    inks.push({
      key: registration ? registrationKey : spotKey(name),
      name,
      kind: registration ? 'registration' : 'spot',
      displayHex: hex,
      used,
    });
  }
  for (const hex of flat.keys()) {
    const name = layerNames.get(hex);
    inks.push({ key: hex, name: name ?? hex, kind: name === undefined ? 'flat' : 'spot', displayHex: hex, used: true });
  }
  const whiteName = layerNames.get('#ffffff');
  if (whiteUsed && whiteName !== undefined) {
    inks.push({ key: whiteKey, name: whiteName, kind: 'spot', displayHex: '#ffffff', used: true });
  } else if (whiteUsed) inks.push({ key: whiteKey, name: 'white', kind: 'flat', displayHex: '#ffffff', used: true });

  const shareOf = (leaf: Leaf, swatch: Swatch): InkShare | null => {
    const name = nameOf(leaf, swatch);
    if (name === null) {
      if (swatch.colour.hex !== '#ffffff') return { key: swatch.colour.hex, tintRatio: 1 };
      return whiteName === undefined ? null : { key: whiteKey, tintRatio: 1 };
    }
    const key = isRegistration(name) ? registrationKey : spotKey(name);
    if (swatch.spot !== null) return { key, tintRatio: swatch.spot.tintRatio };
    const strongest = named.get(name)?.strongest ?? 0;
    // An ink whose strongest colour is white itself is white ink, solid wherever it is painted.
    if (strongest < 1) return { key, tintRatio: 1 };
    const tintRatio = Math.round((strengthOf(swatch.colour.hex) / strongest) * 1000) / 1000;
    return tintRatio === 0 ? null : { key, tintRatio };
  };
  // White that is an ink prints wherever it is painted, on bare ground too.
  const seen = whiteName === undefined ? hidden : hidden.map((reason) => (reason === 'sameAsGround' ? null : reason));
  return { inks: uniqueKeys(inks), hidden: seen, shareOf };
}

/** Several spellings of registration are one ink. */
function uniqueKeys(inks: readonly FilmInk[]): FilmInk[] {
  const byKey = new Map<string, FilmInk>();
  for (const ink of inks) {
    const known = byKey.get(ink.key);
    byKey.set(ink.key, known === undefined ? ink : { ...known, used: known.used || ink.used });
  }
  return [...byKey.values()];
}

function nameOf(leaf: Leaf, swatch: Swatch): string | null {
  return swatch.spot?.name ?? leaf.inkLabel;
}

function spotKey(name: string): string {
  return `spot:${name}`;
}

function isRegistration(name: string): boolean {
  return /^(registration|all)$/i.test(name.trim());
}

/** How far a colour is from white in lightness (CIE L*), 0–100. */
function strengthOf(hex: string): number {
  return 100 - (toLab(hex)?.l ?? 0);
}

/** The colours a leaf really paints with: a stop that lets everything through paints nothing. */
export function leafSwatches(leaf: Leaf): Swatch[] {
  if (isUnseparated(leaf)) return [];
  const paints = leaf.text === null ? (leaf.paint === null ? [] : [leaf.paint]) : paintsOf(leaf.text);
  return paints.flatMap(swatchesOf).filter(({ alpha }) => alpha > 0);
}

/** A picture whose colours are not split into inks: it paints with none of them. */
export function isUnseparated(leaf: Leaf): boolean {
  return leaf.image !== null && leaf.image.pixels === null;
}

/** Whether a leaf paints nothing but unnamed white. */
export function isWhiteLeaf(leaf: Leaf): boolean {
  const swatches = leafSwatches(leaf);
  return (
    swatches.length > 0 && swatches.every((swatch) => swatch.colour.hex === '#ffffff' && nameOf(leaf, swatch) === null)
  );
}

/**
 * Names that layers give: a layer with a label of its own that is seen to paint exactly one colour, found nowhere
 * outside it. The innermost such layer names the colour; white only where the label speaks of white or a base.
 */
function namesByLayer(
  leaves: readonly Leaf[],
  hidden: readonly (HiddenReason | null)[],
  taken: ReadonlySet<string>,
): ReadonlyMap<string, string> {
  const coloursOf = new Map<SvgElement, { label: string; depth: number; colours: Map<string, number> }>();
  const total = new Map<string, number>();
  const whiteLayers = (leaf: Leaf) => leaf.layers.some(({ isLayer, label }) => isLayer && speaksOfWhite(label));
  for (const leaf of leaves) {
    const reason = hidden[leaf.index];
    if ((reason !== null && reason !== 'sameAsGround') || leaf.kind === 'image') continue;
    for (const swatch of leafSwatches(leaf)) {
      const { hex } = swatch.colour;
      if (nameOf(leaf, swatch) !== null) continue;
      if (hex === '#ffffff' && !whiteLayers(leaf)) continue;
      total.set(hex, (total.get(hex) ?? 0) + 1);
      leaf.layers.forEach(({ element, label, isLayer }, depth) => {
        if (!isLayer) return;
        const entry = coloursOf.get(element) ?? { label, depth, colours: new Map<string, number>() };
        entry.colours.set(hex, (entry.colours.get(hex) ?? 0) + 1);
        coloursOf.set(element, entry);
      });
    }
  }
  const names = new Map<string, { label: string; depth: number }>();
  for (const { label, depth, colours } of coloursOf.values()) {
    if (colours.size !== 1 || isGenericLabel(label) || taken.has(label)) continue;
    const [[hex, count]] = colours;
    if (total.get(hex) !== count || (names.get(hex)?.depth ?? -1) >= depth) continue;
    if (hex === '#ffffff' && !speaksOfWhite(label)) continue;
    names.set(hex, { label, depth });
  }
  return new Map([...names].map(([hex, { label }]) => [hex, label]));
}

function speaksOfWhite(label: string): boolean {
  return /\b(white|base|underbase)\b/i.test(label);
}
