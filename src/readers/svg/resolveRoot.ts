import { UnreadableFilmError } from '../../artwork/unreadableFilmError.ts';
import { identity, type Matrix, multiplied } from '../../geometry/matrix.ts';
import { mmPerCssPixel } from '../../units/lengths.ts';
import { createCascade, styleValue } from './cascade.ts';
import type { Item, Leaf } from './displayList.ts';
import { loadImages } from './loadImages.ts';
import type { ParsedXml } from './parseXml.ts';
import { addNote, type PendingNote, quoted, type ResolveState, type Scope } from './resolveState.ts';
import { parseStyleSheets, type StyleProblem } from './styleSheet.ts';
import { type SvgElement, textContent } from './svgElement.ts';
import { parseLength, unitOf } from './svgLengths.ts';
import { fitViewBox, parseTransform, parseViewBox } from './transforms.ts';
import { walkElement } from './walk.ts';

export interface ResolvedSvg {
  readonly widthMm: number;
  readonly heightMm: number;
  readonly scaleKnown: boolean;
  readonly items: readonly Item[];
  readonly leaves: readonly Leaf[];
  readonly notes: readonly PendingNote[];
}

/** The drawing as a flat list in film mm, painting order. */
export async function resolveSvg(fileName: string, xml: ParsedXml): Promise<ResolvedSvg> {
  const { root, elements } = xml;
  const byId = new Map<string, SvgElement>();
  for (const element of elements) {
    const id = element.attributes.get('id');
    if (id !== undefined && !byId.has(id)) byId.set(id, element);
  }
  const sheets = elements
    .filter((element) => element.name === 'style' && /^(text\/css)?$/i.test(element.attributes.get('type') ?? ''))
    .map((element) => ({ css: textContent(element), media: element.attributes.get('media') }));
  const sheet = parseStyleSheets(sheets);
  const notes = new Map<string, PendingNote>();
  const ignored = new Set<string>();
  const cascade = createCascade(sheet, (_element, message) => {
    if (ignored.size < 20) ignored.add(message.slice(0, 80));
  });
  const rootStyle = cascade.styleOf(root, null);
  const size = readSize(fileName, root, rootStyle);
  const state: ResolveState = {
    fileName,
    cascade,
    byId,
    rootStyle,
    pageBox: { xMm: 0, yMm: 0, widthMm: size.width * mmPerCssPixel, heightMm: size.height * mmPerCssPixel },
    leaves: [],
    notes,
    clips: new Map(),
    masks: new Map(),
    images: await loadImages(elements),
    objectIds: new Map(),
    uses: 0,
    walk: (element, style, scope) => walkElement(state, element, style, scope),
  };
  for (const note of [...size.notes, ...sheet.problems.map(noteOfStyle), ...notesOfXml(xml)]) addNote(state, note);

  const viewBox = parseViewBox(root.attributes.get('viewBox'));
  const viewport = { x: 0, y: 0, width: size.width, height: size.height };
  const fit =
    viewBox === null ? identity : fitViewBox(viewBox, viewport, root.attributes.get('preserveAspectRatio')).matrix;
  const toMm: Matrix = [mmPerCssPixel, 0, 0, mmPerCssPixel, 0, 0];
  const into: Item[] = [];
  const scope: Scope = {
    matrix: tidied(multiplied(multiplied(toMm, parseTransform(rootStyle.transform) ?? identity), fit)),
    viewportWidth: viewBox?.width ?? size.width,
    viewportHeight: viewBox?.height ?? size.height,
    layers: [],
    inkLabel: null,
    clips: [],
    off: styleValue(rootStyle, 'display') === 'none' ? 'layerOff' : null,
    seeThrough: false,
    opacityRatio: 1,
    blendMode: 'normal',
    idPrefix: '',
    open: [],
    contextFill: null,
    contextStroke: null,
    into,
    mode: 'art',
    instanceSize: null,
  };
  for (const child of root.children) if (typeof child !== 'string') state.walk(child, rootStyle, scope);
  for (const message of ignored) {
    addNote(state, {
      code: 'style-not-understood',
      message: `The style ${quoted(message)} cannot be read and is left out.`,
      affects: 'nothing',
      leaves: null,
    });
  }
  return {
    widthMm: state.pageBox.widthMm,
    heightMm: state.pageBox.heightMm,
    scaleKnown: size.scaleKnown,
    items: into,
    leaves: state.leaves,
    notes: [...notes.values()],
  };
}

/** A scale of 1 mm a unit must come out as 1, not as 0.9999999999999999: twelve significant figures are kept. */
function tidied(matrix: Matrix): Matrix {
  return matrix.map((value) => (Math.abs(value) < 1e-12 ? 0 : Number(value.toPrecision(12)))) as unknown as Matrix;
}

interface Size {
  /** In CSS pixels. */
  readonly width: number;
  readonly height: number;
  readonly scaleKnown: boolean;
  readonly notes: readonly PendingNote[];
}

/** The size of the outermost viewport, and whether the file really gives one. */
function readSize(fileName: string, root: SvgElement, style: Readonly<Record<string, string>>): Size {
  const viewBox = parseViewBox(root.attributes.get('viewBox'));
  const fontSize = Number(style['font-size'] ?? 16);
  const context = { viewportWidth: 0, viewportHeight: 0, fontSize, rootFontSize: fontSize };
  const stated = (name: 'width' | 'height') => {
    const text = style[name] ?? root.attributes.get(name);
    const unit = unitOf(text);
    if (unit === null || unit === '%' || unit === 'vw' || unit === 'vh') return null;
    const length = parseLength(text, name === 'width' ? 'x' : 'y', context);
    return length !== null && length > 0 ? { length, isPixels: unit === '' || unit === 'px' } : null;
  };
  const width = stated('width');
  const height = stated('height');
  const note = (code: string, message: string, affects: PendingNote['affects']): PendingNote => ({
    code,
    message,
    affects,
    leaves: null,
  });
  if (width === null && height === null) {
    const box = viewBox ?? { width: 300, height: 150 };
    return {
      width: box.width,
      height: box.height,
      scaleKnown: false,
      notes: [
        note(
          'size-missing',
          'The file does not say how large it is; its units are taken as pixels of 96 to the inch.',
          'size',
        ),
      ],
    };
  }
  const ratio = viewBox === null ? 1 : viewBox.width / viewBox.height;
  const found = {
    width: width?.length ?? height!.length * ratio,
    height: height?.length ?? width!.length / ratio,
  };
  if (!(found.width * found.height < 1e10)) {
    throw new UnreadableFilmError(
      'too-large',
      fileName,
      'The drawing is larger than any film.',
      'Check its width and height.',
    );
  }
  const inPixels = (width ?? height)!.isPixels || (height ?? width)!.isPixels;
  const notes = inPixels
    ? [note('pixels-per-inch-assumed', 'The size is given in pixels; 96 px per inch assumed.', 'nothing')]
    : [];
  const oneMissing = width === null || height === null;
  if (oneMissing && viewBox === null) {
    notes.push(note('size-missing', 'The file gives only one of width and height.', 'size'));
  }
  return { ...found, scaleKnown: !(oneMissing && viewBox === null), notes };
}

function noteOfStyle({ kind, detail }: StyleProblem): PendingNote {
  const messages: Readonly<Record<StyleProblem['kind'], readonly [string, string, PendingNote['affects']]>> = {
    syntax: ['style-not-understood', `Part of a style sheet cannot be read: ${quoted(detail)}.`, 'inks'],
    import: ['external-reference', `A style sheet is linked (${quoted(detail)}) and not in the file.`, 'plate'],
    mediaIgnored: [
      'media-rule-ignored',
      `Styles for ${quoted(detail)} are left out: a film is printed matter.`,
      'nothing',
    ],
    mediaPrint: [
      'media-rule-for-print',
      `Styles for ${quoted(detail)} are used; on a display the drawing looks different.`,
      'nothing',
    ],
    fontFace: ['font-in-file', `The file brings the font ${quoted(detail)}, which is not used.`, 'nothing'],
    atRule: ['style-not-understood', `The style rule ${quoted(`@${detail}`)} is left out.`, 'inks'],
  };
  const [code, message, affects] = messages[kind];
  return { code, message, affects, leaves: null };
}

function notesOfXml(xml: ParsedXml): PendingNote[] {
  const notes: PendingNote[] = [];
  for (const link of xml.styleSheetLinks) {
    notes.push({
      code: 'external-reference',
      message: `A style sheet is linked (${quoted(link)}) and not in the file.`,
      affects: 'plate',
      leaves: null,
    });
  }
  if (xml.namespaceMissing) {
    notes.push({
      code: 'namespace-missing',
      message: 'The file does not state the SVG namespace.',
      affects: 'nothing',
      leaves: null,
    });
  }
  for (const name of xml.markupEntities) {
    notes.push({
      code: 'entity-not-drawn',
      message: `The entity ${quoted(name)} holds elements; they are left out.`,
      affects: 'plate',
      leaves: null,
    });
  }
  return notes;
}
