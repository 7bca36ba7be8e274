import { renderSvgTile } from '../../raster/svgTile.ts';
import { escaped } from './texts.ts';

const genericFamilies = /^(serif|sans-serif|monospace|cursive|fantasy|system-ui|ui-\w+|math|emoji|inherit|)$/i;

/**
 * Family names for which font configurations commonly serve a stand-in of the same widths (the base fonts of
 * ISO 32000-1, 9.6.2.2, and their usual equivalents): drawing cannot tell the stand-in from the font itself.
 */
const oftenReplaced = /^(helvetica|arial|times|times new roman|courier|courier new|symbol|zapfdingbats)\b/i;

/**
 * Which first families of the texts are really there. A family that is found looks the same whatever stands behind it
 * in the list; one that is missing gives way to it. So each is drawn before two fallbacks that differ from each other.
 */
export async function findFonts(families: ReadonlySet<string>): Promise<(family: string) => boolean> {
  const found = new Set<string>();
  const wanted = [...families].filter((family) => {
    const name = firstFamily(family);
    return !genericFamilies.test(name) && !oftenReplaced.test(name);
  });
  const generic =
    wanted.length === 0 ? [] : [await sample('serif'), await sample('monospace'), await sample('sans-serif')];
  if (wanted.length > 0 && !sameBytes(generic[0], generic[1])) {
    for (const family of wanted.slice(0, 200)) {
      const name = `'${firstFamily(family).replaceAll("'", '')}'`;
      const first = await sample(`${name}, serif`);
      // One that looks like a generic family may be that family's font under another name.
      if (generic.some((one) => sameBytes(one, first))) continue;
      if (sameBytes(first, await sample(`${name}, monospace`))) found.add(family);
    }
  }
  return (family) => found.has(family);
}

function firstFamily(family: string): string {
  return family
    .split(',')[0]
    .trim()
    .replace(/^["']|["']$/g, '');
}

function sample(family: string): Promise<Uint8Array> {
  const markup = `<text x="4" y="40" font-size="32" font-family="${escaped(family)}">Wagfi lr8Q</text>`;
  const grid = { widthPx: 300, heightPx: 60, pitchXMm: 1, pitchYMm: 1 };
  return renderSvgTile({ defs: '', fragments: [{ markup, boxMm: null }] }, grid, 0, 0, 300, 60);
}

function sameBytes(a: Uint8Array, b: Uint8Array): boolean {
  return a.length === b.length && a.every((value, index) => value === b[index]);
}
