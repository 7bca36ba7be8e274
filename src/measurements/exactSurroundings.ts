import type { BoxMm } from '../geometry/box.ts';
import { collectEdgesNear, type Line, type NearEdge, type Span, spansInside } from '../geometry/rings.ts';
import type { Layer, LayerRings } from './exactArt.ts';
import { Section } from './exactSection.ts';

export interface NearLayer {
  readonly number: number;
  readonly layer: Layer;
  readonly rings: LayerRings | null;
  /** The rings of its own that come near. */
  readonly ringsNear: readonly number[];
}

/** The layers that come near a point, the lowest first. */
export class Surroundings {
  private readonly near: readonly NearLayer[];

  constructor(near: readonly NearLayer[]) {
    this.near = near;
  }

  /** What the ink looks like along a line near by. */
  sectionAlong(line: Line): Section {
    const section = new Section(line.reachMm);
    for (const { number, layer, rings, ringsNear } of this.near) {
      if (rings === null) {
        const span = spanInBox(layer.boxMm, line);
        if (span !== null) section.paint(span, 0, number, layer.become);
        continue;
      }
      let spans = spansInside(rings.own, line, ringsNear);
      for (const clip of rings.clips) spans = spansInBoth(spans, spansInside(clip, line));
      for (const span of spans) section.paint(span, rings.toleranceMm, number, layer.become);
    }
    return section;
  }

  /** The edges near a point, the nearest first. */
  edgesNear(xMm: number, yMm: number, reachMm: number): NearEdge[] {
    const found: NearEdge[] = [];
    for (const { rings, ringsNear } of this.near) {
      if (rings === null) continue;
      collectEdgesNear(rings.own, xMm, yMm, reachMm, found, ringsNear);
      for (const clip of rings.clips) collectEdgesNear(clip, xMm, yMm, reachMm, found);
    }
    return found.sort((a, b) => a.awayMm - b.awayMm);
  }
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
