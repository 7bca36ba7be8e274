import type { ArtObject } from '../artwork/artObject.ts';
import type { Film } from '../artwork/film.ts';
import type { Outline } from '../artwork/outline.ts';
import { type BoxMm, grownBox } from '../geometry/box.ts';
import { BoxTree } from '../geometry/boxTree.ts';
import { curveTo, PathStore } from '../geometry/pathStore.ts';
import { type Rings, ringsMeeting, ringsOf } from '../geometry/rings.ts';
import { strokeOutline } from '../geometry/strokeOutline.ts';
import { black, clear, type InkState, unknown } from './exactSection.ts';
import { type NearLayer, Surroundings } from './exactSurroundings.ts';

/**
 * Numbers of a film up to 400 mm in single precision, in which most programs write, are good to this, and so is what
 * is worked out from them.
 */
export const numberToleranceMm = 0.00005;
/** Curves are taken apart into straight edges that stray from them by no more than this. */
export const flatteningMm = 0.0002;
/** The same for the middle lines of strokes, which are as wide as their pen all the same. */
const strokeFlatteningMm = 0.001;
/** Boxes of texts are taken this much larger: letters may reach out of them. */
const textReachMm = 0.3;
/** Tints below print no black on the plate and tints above do; plates are cut at half tone. */
const clearTint = 0.49;
const blackTint = 0.51;
/** A path of more commands than this is taken as not known: every look at it would cost too much. */
const mostCommands = 20_000;
/**
 * What may be asked of a plate in one round, so that no art takes long: edges taken out of paths and edges near places
 * looked at, a place alone counting as many. It comes to some hundredths of a second; what is asked beyond that is not
 * answered, and the plate's pixels have the word.
 */
const mostEdges = 150_000;
const edgesPerPlace = 65;

/** Something on the film that has a say in what one ink looks like. */
export interface Layer {
  readonly object: ArtObject;
  readonly boxMm: BoxMm;
  /** Turns the states below it into those above it, where it certainly or (without an outline) perhaps lies. */
  readonly become: (state: InkState) => InkState;
}

export interface LayerRings {
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
  private edges = 0;
  private readonly taken = new Set<Layer>();

  constructor(film: Pick<Film, 'objects' | 'inks'>, inkKey: string) {
    const everywhere = new Set(film.inks.filter(({ kind }) => kind === 'registration').map(({ key }) => key));
    this.layers = film.objects.flatMap((object) => layerOf(object, inkKey, everywhere) ?? []);
    this.tree = new BoxTree(this.layers.map(({ boxMm }) => boxMm));
  }

  /** Begins another round of questions. */
  askAnew(): void {
    this.edges = 0;
    this.taken.clear();
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
    // Counted in every round, whether kept from an earlier one or not, so that all rounds get the same answers.
    if (rings !== null && !this.taken.has(layer)) {
      this.taken.add(layer);
      this.edges += rings.own.points.length / 2;
    }
    return rings;
  }

  /** What lies round a point, from which sections through it can be taken; null when too much has been asked. */
  around(xMm: number, yMm: number, reachMm: number): Surroundings | null {
    const box = { xMm: xMm - reachMm, yMm: yMm - reachMm, widthMm: 2 * reachMm, heightMm: 2 * reachMm };
    const near: NearLayer[] = this.layersIn(box).map((number) => {
      const layer = this.layers[number];
      const rings = this.ringsOf(layer);
      const ringsNear = rings === null ? [] : ringsMeeting(rings.own, box);
      if (rings !== null) this.edges += edgesOf(rings.own, ringsNear);
      return { number, layer, rings, ringsNear };
    });
    this.edges += edgesPerPlace;
    return this.edges > mostEdges ? null : new Surroundings(near);
  }

  private makeRings(outline: Outline): LayerRings | null {
    const { paths, path, evenOdd, pen } = outline;
    const commands = [path, ...outline.clips.map((clip) => clip.path)].map((one) => one.verbEnd - one.verbStart);
    if (Math.max(...commands) > mostCommands) return null;
    let own: Rings;
    if (pen === null) own = ringsOf(paths, path, evenOdd, flatteningMm);
    else {
      const store = new PathStore();
      own = ringsOf(
        store,
        strokeOutline(paths, path, pen, strokeFlatteningMm, store, flatteningMm),
        false,
        flatteningMm,
      );
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
    const toleranceMm = isStraight ? 0 : pen === null ? flatteningMm : strokeFlatteningMm;
    return { own, clips, toleranceMm, isRound };
  }
}

function edgesOf({ starts }: Rings, rings: readonly number[]): number {
  return rings.reduce((sum, ring) => sum + starts[ring + 1] - starts[ring], 0);
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
