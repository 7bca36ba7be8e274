import type { ReadNote } from '../../artwork/readNote.ts';
import { UnreadableFilmError } from '../../artwork/unreadableFilmError.ts';
import type { BoxMm } from '../../geometry/box.ts';
import type { Matrix } from '../../geometry/matrix.ts';
import type { Cascade, Style } from './cascade.ts';
import type { Clip, HiddenReason, Item, Layer, Leaf, LeafImage, Mask, Paint } from './displayList.ts';
import { maxLeaves, maxUses } from './limits.ts';
import type { SvgElement } from './svgElement.ts';
import type { LengthContext } from './svgLengths.ts';

/** A note whose inks are not known yet: those of the leaves from `firstLeaf` up to `endLeaf`. */
export interface PendingNote extends Omit<ReadNote, 'inkKeys'> {
  readonly leaves: readonly [firstLeaf: number, endLeaf: number] | null;
  /** How far beyond its leaves an effect may reach. */
  readonly reachMm?: number;
}

/** What a walk over the file needs and fills. */
export interface ResolveState {
  readonly fileName: string;
  readonly cascade: Cascade;
  readonly byId: ReadonlyMap<string, SvgElement>;
  readonly rootStyle: Style;
  readonly pageBox: BoxMm;
  readonly leaves: Leaf[];
  readonly notes: Map<string, PendingNote>;
  readonly clips: Map<string, Clip>;
  readonly masks: Map<string, Mask>;
  readonly images: ReadonlyMap<SvgElement, LoadedImage>;
  readonly objectIds: Map<string, number>;
  uses: number;
  /** Paints one element and what is in it. */
  walk(element: SvgElement, parentStyle: Style, scope: Scope): void;
}

export interface LoadedImage extends Omit<LeafImage, 'ppiX' | 'ppiY'> {}

/** What an element inherits besides its style. */
export interface Scope {
  /** From user units to film mm. */
  readonly matrix: Matrix;
  readonly viewportWidth: number;
  readonly viewportHeight: number;
  readonly layers: readonly Layer[];
  readonly inkLabel: string | null;
  readonly clips: readonly Clip[];
  readonly off: HiddenReason | null;
  /** Inside a group that lets something through. */
  readonly seeThrough: boolean;
  readonly opacityRatio: number;
  readonly blendMode: string;
  readonly idPrefix: string;
  readonly open: readonly SvgElement[];
  readonly contextFill: Paint | null;
  readonly contextStroke: Paint | null;
  readonly into: Item[];
  /** `art` lists objects; `clip` collects white shapes; `mask` collects items with their own colours. */
  readonly mode: 'art' | 'clip' | 'mask';
  /** Size of the instance a `use` asks of a symbol or svg. */
  readonly instanceSize: { readonly width: number | null; readonly height: number | null } | null;
}

export function lengthContext(state: ResolveState, style: Style, scope: Scope): LengthContext {
  return {
    viewportWidth: scope.viewportWidth,
    viewportHeight: scope.viewportHeight,
    fontSize: Number(style['font-size'] ?? 16),
    rootFontSize: Number(state.rootStyle['font-size'] ?? 16),
  };
}

/** Adds a note once per code and element. */
export function addNote(state: ResolveState, note: PendingNote): void {
  const key = `${note.code}\n${note.objectId ?? ''}\n${note.message}`;
  if (!state.notes.has(key) && state.notes.size < 2000) state.notes.set(key, note);
}

export function countUse(state: ResolveState): void {
  state.uses++;
  if (state.uses > maxUses) {
    throw new UnreadableFilmError(
      'too-complex',
      state.fileName,
      `The drawing repeats symbols, markers or patterns more than ${maxUses} times.`,
      'Turn the clones into plain shapes, or export the drawing as PDF.',
    );
  }
}

/** Puts a leaf on the list of objects and, unless it is off, among the items to draw. */
export function addLeaf(state: ResolveState, scope: Scope, leaf: Omit<Leaf, 'index'>): void {
  if (scope.mode !== 'art') {
    if (leaf.off === null) scope.into.push({ ...leaf, index: -1 });
    return;
  }
  if (state.leaves.length >= maxLeaves) {
    throw new UnreadableFilmError(
      'too-complex',
      state.fileName,
      `The drawing paints more than ${maxLeaves} shapes.`,
      'Simplify the drawing, or export it as films in TIFF.',
    );
  }
  const full = { ...leaf, index: state.leaves.length };
  state.leaves.push(full);
  if (leaf.off === null) scope.into.push(full);
}

/** An object's name for people and reports: its id, the clones it came through, and a number when it comes again. */
export function objectIdFor(state: ResolveState, scope: Scope, element: SvgElement, suffix: string): string {
  const own = element.attributes.get('id') ?? `${element.localName}-${element.documentIndex}`;
  const name = `${scope.idPrefix}${own}${suffix}`;
  if (scope.mode !== 'art') return name;
  const seen = state.objectIds.get(name) ?? 0;
  state.objectIds.set(name, seen + 1);
  return seen === 0 ? name : `${name}~${seen + 1}`;
}

/** The style of a resource or anything reached by reference: inherited from its own ancestors. */
export function styleInPlace(state: ResolveState, element: SvgElement): Style {
  const parent = element.parent === null ? null : styleInPlace(state, element.parent);
  return state.cascade.styleOf(element, parent);
}

/** A scope to collect a resource's content in. */
export function detachedScope(scope: Scope, changes: Partial<Scope>): Scope {
  return {
    ...scope,
    clips: [],
    seeThrough: false,
    opacityRatio: 1,
    blendMode: 'normal',
    off: null,
    instanceSize: null,
    into: [],
    ...changes,
  };
}

/** Names from files are shown as text, and not at any length. */
export function quoted(text: string): string {
  const clean = text.replace(/\s+/g, ' ').trim();
  return `"${clean.length > 60 ? `${clean.slice(0, 57)}…` : clean}"`;
}
