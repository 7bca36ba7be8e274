import { SaxesParser, type SaxesTagNS } from 'saxes';
import { UnreadableFilmError } from '../../artwork/unreadableFilmError.ts';
import { maxCharacters, maxDepth, maxElements } from './limits.ts';
import type { SvgElement } from './svgElement.ts';

const svgNamespace = 'http://www.w3.org/2000/svg';
const prefixes = new Map([
  ['http://www.w3.org/1999/xlink', 'xlink'],
  ['http://www.inkscape.org/namespaces/inkscape', 'inkscape'],
  ['http://sodipodi.sourceforge.net/DTD/sodipodi-0.dtd', 'sodipodi'],
  ['http://www.w3.org/XML/1998/namespace', 'xml'],
]);

export interface ParsedXml {
  readonly root: SvgElement;
  readonly elements: readonly SvgElement[];
  /** `href` and text of `xml-stylesheet` instructions, which are not fetched. */
  readonly styleSheetLinks: readonly string[];
  /** The root element states no SVG namespace. */
  readonly namespaceMissing: boolean;
  /** Names of entities that hold markup; it is read as text. */
  readonly markupEntities: readonly string[];
}

interface OpenElement {
  name: string;
  localName: string;
  attributes: Map<string, string>;
  children: (SvgElement | string)[];
  parent: SvgElement | null;
  elementIndex: number;
  documentIndex: number;
}

/** The element tree of an SVG document. Throws `UnreadableFilmError` for text that is not well-formed or not SVG. */
export function parseXml(fileName: string, text: string): ParsedXml {
  if (!/<[\p{L}_:]/u.test(text)) throw notSvg(fileName, null);
  const elements: OpenElement[] = [];
  const stack: OpenElement[] = [];
  const counts: number[] = [];
  const styleSheetLinks: string[] = [];
  const markupEntities: string[] = [];
  let root: OpenElement | null = null;
  let namespaceMissing = false;

  const parser = new SaxesParser({
    xmlns: true,
    position: true,
    additionalNamespaces: {
      xlink: 'http://www.w3.org/1999/xlink',
      inkscape: 'http://www.inkscape.org/namespaces/inkscape',
      sodipodi: 'http://sodipodi.sourceforge.net/DTD/sodipodi-0.dtd',
      svg: svgNamespace,
      serif: 'serif',
      i: 'i',
    },
  });
  parser.on('error', (error) => {
    throw notWellFormed(fileName, error);
  });
  parser.on('doctype', (doctype) => {
    for (const [name, value] of readEntities(fileName, doctype, text)) {
      if (value.includes('<')) markupEntities.push(name);
      parser.ENTITIES[name] = value;
    }
  });
  parser.on('processinginstruction', ({ target, body }) => {
    if (target === 'xml-stylesheet') styleSheetLinks.push(body);
  });
  parser.on('opentag', (tag: SaxesTagNS) => {
    if (root === null) {
      if (tag.local !== 'svg') throw notSvg(fileName, tag.name);
      namespaceMissing = tag.uri === '';
    }
    const isSvg = tag.uri === svgNamespace || (namespaceMissing && tag.uri === '');
    const parent = stack.at(-1) ?? null;
    const element: OpenElement = {
      name: isSvg ? tag.local : '',
      localName: tag.local,
      attributes: attributesOf(tag),
      children: [],
      parent,
      elementIndex: parent === null ? 0 : counts[counts.length - 1]++,
      documentIndex: elements.length,
    };
    root ??= element;
    parent?.children.push(element);
    elements.push(element);
    stack.push(element);
    counts.push(0);
    if (stack.length > maxDepth || elements.length > maxElements) {
      throw new UnreadableFilmError(
        'too-complex',
        fileName,
        stack.length > maxDepth
          ? `The file nests more than ${maxDepth} elements in each other.`
          : `The file holds more than ${maxElements} elements.`,
        'Flatten the groups of the drawing, or export it as PDF.',
      );
    }
  });
  parser.on('closetag', () => {
    stack.pop();
    counts.pop();
  });
  const addText = (value: string) => {
    stack.at(-1)?.children.push(value);
  };
  parser.on('text', addText);
  parser.on('cdata', addText);
  parser.write(text).close();
  if (root === null) throw notSvg(fileName, null);
  return { root, elements, styleSheetLinks, namespaceMissing, markupEntities };
}

function attributesOf(tag: SaxesTagNS): Map<string, string> {
  const attributes = new Map<string, string>();
  for (const { prefix, local, uri, value } of Object.values(tag.attributes)) {
    if (prefix === 'xmlns' || local === 'xmlns') continue;
    attributes.set(uri === '' || uri === svgNamespace ? local : `${prefixes.get(uri) ?? 'other'}:${local}`, value);
  }
  return attributes;
}

/** Internal general entities of a document type declaration, each replaced fully (XML 1.0, 4.5), with a growth limit. */
function readEntities(fileName: string, doctype: string, text: string): Map<string, string> {
  const raw = new Map<string, string>();
  for (const [, name, double, single] of doctype.matchAll(/<!ENTITY\s+([\w.:-]+)\s+(?:"([^"]*)"|'([^']*)')\s*>/g)) {
    if (!raw.has(name)) raw.set(name, double ?? single);
  }
  const done = new Map<string, string>();
  const expand = (name: string, open: readonly string[]): string => {
    const known = done.get(name);
    if (known !== undefined) return known;
    if (open.includes(name)) throw entityGrowth(fileName);
    let size = 0;
    const value = raw.get(name)!.replace(/&(#x[\da-f]+|#\d+|[\w.:-]+);/gi, (whole, reference: string) => {
      const part = reference.startsWith('#')
        ? String.fromCodePoint(Number(reference[1] === 'x' ? `0${reference.slice(1)}` : reference.slice(1)))
        : raw.has(reference)
          ? expand(reference, [...open, name])
          : whole;
      size += part.length;
      if (size > maxCharacters / 10) throw entityGrowth(fileName);
      return part;
    });
    done.set(name, value);
    return value;
  };
  let total = text.length;
  for (const name of raw.keys()) {
    const uses = text.split(`&${name};`).length - 1;
    total += uses * expand(name, []).length;
    if (total > maxCharacters) throw entityGrowth(fileName);
  }
  return done;
}

function entityGrowth(fileName: string): UnreadableFilmError {
  return new UnreadableFilmError(
    'too-complex',
    fileName,
    'The entities the file declares grow without limit.',
    'Save the drawing again from a drawing program.',
  );
}

function notWellFormed(fileName: string, cause: Error): UnreadableFilmError {
  const place = /^(\d+):(\d+): (.*)$/s.exec(cause.message);
  const truncated = /unclosed tag|unexpected end|end of (file|document)|must contain a root/i.test(cause.message);
  const where = place === null ? '' : ` at line ${place[1]}`;
  return new UnreadableFilmError(
    truncated ? 'truncated-file' : 'damaged-file',
    fileName,
    truncated ? 'The file breaks off before its end.' : `The file is not well-formed XML${where}.`,
    truncated
      ? 'Send the file again; part of it is missing.'
      : 'Open it in a drawing program and save it again as SVG.',
    cause,
  );
}

function notSvg(fileName: string, rootName: string | null): UnreadableFilmError {
  return new UnreadableFilmError(
    'unknown-format',
    fileName,
    rootName === null
      ? 'The file holds no SVG drawing.'
      : `The file is XML with the root "${rootName.slice(0, 40)}", not SVG.`,
    'Export the drawing as SVG, PDF or TIFF.',
  );
}
