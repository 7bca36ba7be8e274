/** An element of the file. Namespaces are folded into the names: `name` is empty unless the element is SVG. */
export interface SvgElement {
  /** Local name of an SVG element, else ''. */
  readonly name: string;
  /** Local name as written, of whatever namespace. */
  readonly localName: string;
  /** By local name; names of other namespaces keep a fixed prefix (`xlink:`, `inkscape:`, `sodipodi:`, else `other:`). */
  readonly attributes: ReadonlyMap<string, string>;
  readonly children: readonly (SvgElement | string)[];
  readonly parent: SvgElement | null;
  /** Place among its parent's elements, from 0. */
  readonly elementIndex: number;
  /** Place in the document, from 0. */
  readonly documentIndex: number;
}

export function elementChildren(element: SvgElement): SvgElement[] {
  return element.children.filter((child): child is SvgElement => typeof child !== 'string');
}

export function attribute(element: SvgElement, name: string): string | undefined {
  return element.attributes.get(name);
}

/** The reference of an element; the plain `href` of SVG 2 wins over `xlink:href` (SVG 2, 16.1.6). */
export function hrefOf(element: SvgElement): string | undefined {
  return element.attributes.get('href') ?? element.attributes.get('xlink:href');
}

export function textContent(element: SvgElement): string {
  return element.children.map((child) => (typeof child === 'string' ? child : textContent(child))).join('');
}
