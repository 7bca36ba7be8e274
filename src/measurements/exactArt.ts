import type { ArtObject } from '../artwork/artObject.ts';
import type { Film } from '../artwork/film.ts';
import type { Outline } from '../artwork/outline.ts';
import { type BoxMm, grownBox } from '../geometry/box.ts';
import { BoxTree } from '../geometry/boxTree.ts';
import { curveTo, PathStore } from '../geometry/pathStore.ts';
import {
  collectEdgesNear,
  type Line,
  type NearEdge,
  type Rings,
  ringsOf,
  type Span,
  spansInside,
} from '../geometry/rings.ts';
import { strokeOutline } from '../geometry/strokeOutline.ts';
import { black, clear, type InkState, Section, unknown } from './exactSection.ts';

/** Curves are taken apart into straight edges that stray from them by no more than this. */
export const flatteningMm = 0.0002;
/** Boxes of texts are taken this much larger: letters may reach out of them. */
const textReachMm = 0.3;
/** Tints below print no black on the plate and tints above do; plates are cut at half tone. */
const clearTint = 0.49;
const blackTint = 0.51;
/** A path of more commands than this is taken as not known: every look at it would cost too much. */
const mostCommands = 20_000;
/** Edges looked at for one plate, all told, about two seconds' worth; what is asked beyond that is not answered. */
const mostLooks = 1_000_000_000;
/** A section costs as much as looking at so many edges. */
const looksPerSection = 1000;

/** Something on the film that has a say in what one ink looks like. */
export interface Layer {
  readonly object: ArtObject;
  readonly boxMm: BoxMm;
  /** Turns the states below it into those above it, where it certainly or (without an outline) perhaps lies. */
  readonly become: (state: InkState) => InkState;
}

interface LayerRings {
  readonly own: Rings;
  readonly clips: readonly Rings[];
  readonly toleranceMm: number;
  /** Its own rings stand for curves. */
  readonly isRound: boolean;
}

/** One ink of a film as its objects state it, from which exact sections can be taken. */
export class ExactArt {
  /** In painting order. */
  readonly layers: readonly Layer[];
  private readonly tree: BoxTree;
  private readonly rings = new Map<Layer, LayerRings | null>();
  private readonly clipRings = new Map<object, Rings>();
  private looks = 0;

  constructor(film: Pick<Film, 'objects' | 'inks'>, inkKey: string) {
    const everywhere = new Set(film.inks.filter(({ kind }) => kind === 'registration').map(({ key }) => key));
    this.layers = film.objects.flatMap((object) => layerOf(object, inkKey, everywhere) ?? []);
    this.tree = new BoxTree(this.layers.map(({ boxMm }) => boxMm));
  }

  /** Whether the outline of everything that meets a box is known. */
  isKnownIn(box: BoxMm): boolean {
    return this.layersIn(box).every((number) => this.ringsOf(this.layers[number]) !== null);
  }

  /** Numbers of the layers that meet a box, the lowest first. */
  layersIn(box: BoxMm): number[] {
    return this.tree.meeting(box);
  }

  /** The rings of a layer; null when it has no outline. Those of layers seen before are kept. */
  ringsOf(layer: Layer): LayerRings | null {
    let rings = this.rings.get(layer);
    if (rings === undefined) {
      rings = layer.object.outline === undefined ? null : this.makeRings(layer.object.outline);
      this.rings.set(layer, rings);
    }
    return rings;
  }

  /** What the ink looks like along a line; null when too much has been asked already. */
  sectionAlong(line: Line): Section | null {
    this.looks += looksPerSection;
    if (this.looks > mostLooks) return null;
    const section = new Section(line.reachMm);
    for (const number of this.layersIn(boxOfLine(line))) {
      const layer = this.layers[number];
      const rings = this.ringsOf(layer);
      if (rings === null) {
        const span = spanInBox(layer.boxMm, line);
        if (span !== null) section.paint(span, 0, number, layer.become);
        continue;
      }
      this.looks += rings.own.points.length / 2;
      let spans = spansInside(rings.own, line);
      for (const clip of rings.clips) spans = spansInBoth(spans, spansInside(clip, line));
      for (const span of spans) section.paint(span, rings.toleranceMm, number, layer.become);
    }
    return section;
  }

  /** Directions square to the edges near a point, those of the nearest edges first. */
  directionsNear(
    xMm: number,
    yMm: number,
    reachMm: number,
    sameRad: number,
    most: number,
  ): (readonly [dx: number, dy: number])[] {
    const box = { xMm: xMm - reachMm, yMm: yMm - reachMm, widthMm: 2 * reachMm, heightMm: 2 * reachMm };
    const found: NearEdge[] = [];
    for (const number of this.layersIn(box)) {
      const rings = this.ringsOf(this.layers[number]);
      if (rings === null) continue;
      for (const one of [rings.own, ...rings.clips]) {
        this.looks += one.points.length / 2;
        collectEdgesNear(one, xMm, yMm, reachMm, found);
      }
    }
    found.sort((a, b) => a.awayMm - b.awayMm);
    const directions: (readonly [number, number])[] = [];
    for (const { dx, dy } of found) {
      if (directions.length === most) break;
      if (directions.every(([x, y]) => Math.abs(x * dy - y * dx) > sameRad)) directions.push([dx, dy]);
    }
    return directions;
  }

  private makeRings(outline: Outline): LayerRings | null {
    const { paths, path, evenOdd, pen } = outline;
    const commands = [path, ...outline.clips.map((clip) => clip.path)].map((one) => one.verbEnd - one.verbStart);
    if (Math.max(...commands) > mostCommands) return null;
    let own: Rings;
    if (pen === null) own = ringsOf(paths, path, evenOdd, flatteningMm);
    else {
      const store = new PathStore();
      own = ringsOf(store, strokeOutline(paths, path, pen, flatteningMm, store), false, flatteningMm);
    }
    const isRound = hasCurves(outline, path) || (pen !== null && (pen.cap === 1 || pen.join === 1));
    let isStraight = !hasCurves(outline, path);
    const clips = outline.clips.map((clip) => {
      if (hasCurves(outline, clip.path)) isStraight = false;
      let rings = this.clipRings.get(clip.path);
      if (rings === undefined) {
        rings = ringsOf(paths, clip.path, clip.evenOdd, flatteningMm);
        this.clipRings.set(clip.path, rings);
      }
      return rings;
    });
    return { own, clips, toleranceMm: isStraight ? 0 : flatteningMm, isRound };
  }
}

function hasCurves({ paths }: Outline, { verbStart, verbEnd }: Outline['path']): boolean {
  return paths.verbs.subarray(verbStart, verbEnd).includes(curveTo);
}

/** The object's say in the ink, or null when it has none. */
function layerOf(object: ArtObject, inkKey: string, everywhere: ReadonlySet<string>): Layer | null {
  if (object.hidden !== null) return null;
  const { outline, boxMm } = object;
  const tints = object.inks
    .filter(({ key }) => key === inkKey || everywhere.has(key))
    .map(({ tintRatio }) => tintRatio);
  const tint = Math.max(0, ...tints);
  if (outline !== undefined && !object.isWhite) {
    if (tint >= blackTint) return { object, boxMm, become: () => black };
    if (tint > clearTint) return { object, boxMm, become: () => unknown };
    if (tint > 0 || outline.clears === 'others' || outline.clears.includes(inkKey)) {
      return { object, boxMm, become: () => clear };
    }
    return null;
  }
  if (outline !== undefined && inkKey !== whiteKey) return { object, boxMm, become: () => clear };
  const reachMm = object.kind === 'text' ? textReachMm : 0;
  const isSolid = object.opacityRatio === 1 && object.kind !== 'image' && object.kind !== 'shading';
  const become = (state: InkState): InkState => {
    // Black over black and a knock-out of clear film change nothing, wherever they lie.
    if (isSolid && tint >= blackTint) return state === black ? black : unknown;
    if (tint === 0 && inkKey !== whiteKey) return state === clear ? clear : unknown;
    return unknown;
  };
  return { object, boxMm: grownBox(boxMm, reachMm), become };
}

/** Of white, a film may or may not have an ink of its own. */
const whiteKey = 'white';

function boxOfLine({ xMm, yMm, dx, dy, reachMm }: Line): BoxMm {
  const acrossMm = Math.abs(dx) * reachMm;
  const downMm = Math.abs(dy) * reachMm;
  return { xMm: xMm - acrossMm, yMm: yMm - downMm, widthMm: 2 * acrossMm, heightMm: 2 * downMm };
}

/** The part of a line within a box, as far as it reaches. */
function spanInBox(box: BoxMm, { xMm, yMm, dx, dy, reachMm }: Line): Span | null {
  let fromMm = -reachMm;
  let toMm = reachMm;
  for (const [start, way, low, size] of [
    [xMm, dx, box.xMm, box.widthMm],
    [yMm, dy, box.yMm, box.heightMm],
  ]) {
    if (Math.abs(way) < 1e-12) {
      if (start < low || start > low + size) return null;
      continue;
    }
    const ends = [(low - start) / way, (low + size - start) / way];
    fromMm = Math.max(fromMm, Math.min(...ends));
    toMm = Math.min(toMm, Math.max(...ends));
  }
  return fromMm < toMm ? { fromMm, toMm, fromEdge: null, toEdge: null } : null;
}

function spansInBoth(a: readonly Span[], b: readonly Span[]): Span[] {
  const both: Span[] = [];
  for (const one of a) {
    for (const other of b) {
      const fromMm = Math.max(one.fromMm, other.fromMm);
      const toMm = Math.min(one.toMm, other.toMm);
      if (fromMm >= toMm) continue;
      both.push({
        fromMm,
        toMm,
        fromEdge: one.fromMm >= other.fromMm ? one.fromEdge : other.fromEdge,
        toEdge: one.toMm <= other.toMm ? one.toEdge : other.toEdge,
      });
    }
  }
  return both;
}
