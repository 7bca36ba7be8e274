import type { Layer } from './displayList.ts';
import type { SvgElement } from './svgElement.ts';

const groupNames = new Set(['g', 'svg', 'a', 'switch', 'symbol']);

/** The label of a group: its layer name, else its id; null for anything else and for the root. */
export function layerOf(element: SvgElement): Layer | null {
  if (!groupNames.has(element.name) || element.parent === null) return null;
  const given =
    element.attributes.get('inkscape:label') ??
    element.attributes.get('data-name') ??
    element.attributes.get('other:id');
  const id = element.attributes.get('id');
  const label = given ?? (id === undefined ? undefined : unescapedId(id));
  if (label === undefined || label.trim() === '') return null;
  const isTop = element.name === 'g' && element.parent.parent === null;
  return { element, label: label.trim(), isLayer: element.attributes.get('inkscape:groupmode') === 'layer' || isTop };
}

/** Ids in which a drawing program has written `_x20_` for characters an id cannot hold. */
function unescapedId(id: string): string {
  return id.replace(/_x([0-9a-f]{2,4})_/gi, (_, code: string) => String.fromCharCode(Number.parseInt(code, 16)));
}

/**
 * The ink an element is drawn for by the house's convention: `data-ink="Lagoon"` on any element, a layer or group
 * labelled `ink: Lagoon`, or a group whose id is `ink-Lagoon`.
 */
export function inkLabelOf(element: SvgElement): string | null {
  const stated = element.attributes.get('data-ink')?.trim();
  if (stated) return stated;
  if (!groupNames.has(element.name)) return null;
  for (const name of ['inkscape:label', 'data-name', 'other:id']) {
    const match = /^ink\s*:\s*(\S.*)$/i.exec(element.attributes.get(name)?.trim() ?? '');
    if (match !== null) return match[1];
  }
  const id = element.attributes.get('id');
  const match = id === undefined ? null : /^ink(?:-|:\s*)(\S.*)$/i.exec(unescapedId(id));
  return match === null ? null : match[1];
}

const genericWords =
  'layer|group|calque|ebene|livello|capa|camada|g|svg|path|rect|shape|object|use|text|image|artwork|art|artboard|page|' +
  'background|bg|guides?|grid|main|design|logo|lettering|outlines?|shapes|objects|drawing|print|front|back|root|content|canvas|' +
  'marks?|crop|registration|template|copy|untitled|elements?|graphics?|sketch|symbols?|icons?|surface|figure|matplotlib.axis|axes|patch';
const genericLabel = new RegExp(`^(?:${genericWords})(?:[\\s_.#-]*(?:\\d+|copy))*$`, 'i');

/** Whether a label says nothing of an ink: what drawing programs give by themselves, or names of a place. */
export function isGenericLabel(label: string): boolean {
  return (
    genericLabel.test(label.trim()) || !/\p{L}{2}/u.test(label) || label.length > 40 || /^#[\da-f]{3,8}$/i.test(label)
  );
}
