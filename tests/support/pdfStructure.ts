import { runOracle } from './oraclePrograms.ts';

/** An element of a PDF's structure as `pdfinfo -struct-text` prints it. */
export interface StructureElement {
  readonly tag: string;
  /** `Scope`, `BBox` and what else it carries, as printed. */
  readonly attributes: Readonly<Record<string, string>>;
  readonly children: StructureElement[];
  /** Its own text, in order, that of its children left out. */
  text: string;
}

/** The structure of a PDF as poppler reads it: the element at its root. */
export function structureOf(file: string): StructureElement {
  const root: StructureElement = { tag: '', attributes: {}, children: [], text: '' };
  const open: { readonly indent: number; readonly element: StructureElement }[] = [{ indent: -1, element: root }];
  for (const line of runOracle('pdfinfo', ['-struct-text', '-enc', 'UTF-8', file]).split('\n')) {
    const indent = line.search(/\S/);
    if (indent < 0) continue;
    const words = line.trim();
    while (open[open.length - 1].indent >= indent) open.pop();
    const { element } = open[open.length - 1];
    if (words.startsWith('"')) element.text += words.slice(1, -1);
    else if (words.startsWith('/')) {
      const [key, ...value] = words.slice(1).split(' ');
      (element.attributes as Record<string, string>)[key] = value.join(' ');
    } else if (/^Object \d+/.test(words))
      element.children.push({ tag: 'OBJR', attributes: {}, children: [], text: '' });
    else {
      const tag = /^(\w+)/.exec(words)![1];
      const child = { tag, attributes: {}, children: [], text: '' };
      element.children.push(child);
      open.push({ indent, element: child });
    }
  }
  return root.children[0];
}

/** An element and all within, in reading order. */
export function flattened(element: StructureElement): StructureElement[] {
  return [element, ...element.children.flatMap(flattened)];
}

type Json = string | number | boolean | null | Json[] | { [key: string]: Json };
export type PdfDictionary = { [key: string]: Json };

/** The dictionaries of a PDF by their references (`12 0 R`), streams without their data, and the trailer, by qpdf. */
export function objectsOf(file: string): {
  readonly trailer: PdfDictionary;
  readonly objects: Map<string, PdfDictionary>;
} {
  const json = JSON.parse(runOracle('qpdf', ['--json=2', '--json-key=qpdf', file])) as {
    qpdf: [unknown, Record<string, { value?: PdfDictionary; stream?: { dict: PdfDictionary } }>];
  };
  const objects = new Map<string, PdfDictionary>();
  for (const [key, { value, stream }] of Object.entries(json.qpdf[1])) {
    const dictionary = value ?? stream?.dict;
    if (key.startsWith('obj:') && dictionary) objects.set(key.slice(4), dictionary);
  }
  return { trailer: json.qpdf[1].trailer.value!, objects };
}
