import type { EdgeDirection, Span } from '../geometry/rings.ts';

/** What is known of an ink at a place. */
export const clear = 0;
export const black = 1;
export const unknown = 2;
export type InkState = typeof clear | typeof black | typeof unknown;

/** Thinner than this, mm, is what the rounding of numbers leaves between edges that coincide. */
const sliverMm = 1e-6;

export interface RunEnd {
  /** Way from the point the section goes through. */
  readonly atMm: number;
  /** Null beyond the reach. */
  readonly edge: EdgeDirection | null;
  /** What lies beyond. */
  readonly beyond: InkState | null;
  /** How far the edge may be off. */
  readonly toleranceMm: number;
}

/** An unbroken part of a section in one state. */
export interface Run {
  readonly from: RunEnd;
  readonly to: RunEnd;
  /** The topmost layer in it, or -1. */
  readonly layer: number;
}

interface Cut {
  readonly atMm: number;
  readonly edge: EdgeDirection | null;
  readonly toleranceMm: number;
  state: InkState;
  layer: number;
}

/** A straight section through the layers of a film, painted from the lowest up: what one ink looks like along it. */
export class Section {
  /** Each cut begins a part, the first at the beginning. */
  private cuts: Cut[];
  private readonly reachMm: number;

  constructor(reachMm: number) {
    this.reachMm = reachMm;
    this.cuts = [{ atMm: -reachMm, edge: null, toleranceMm: 0, state: clear, layer: -1 }];
  }

  /** Paints a part: `become` says what each state turns into there. */
  paint(span: Span, toleranceMm: number, layer: number, become: (state: InkState) => InkState): void {
    const from = this.cutAt(span.fromMm, span.fromEdge, toleranceMm);
    const to = span.toMm >= this.reachMm ? this.cuts.length : this.cutAt(span.toMm, span.toEdge, toleranceMm);
    for (let k = from; k < to; k++) {
      const state = become(this.cuts[k].state);
      this.cuts[k] = { ...this.cuts[k], state, layer };
    }
  }

  /** The run in a state that the point lies in, or the nearest one no further from it than `slackMm`. */
  runOf(state: InkState, slackMm: number): Run | null {
    const parts = this.merged();
    let best = -1;
    let leastMm = slackMm;
    for (let k = 0; k < parts.length; k++) {
      if (parts[k].state !== state) continue;
      const endMm = k + 1 < parts.length ? parts[k + 1].atMm : this.reachMm;
      const awayMm = Math.max(0, parts[k].atMm, -endMm);
      if (awayMm > leastMm || (awayMm === leastMm && best >= 0)) continue;
      leastMm = awayMm;
      best = k;
    }
    if (best < 0) return null;
    const next = best + 1 < parts.length ? parts[best + 1] : null;
    const { atMm, edge, toleranceMm, layer } = parts[best];
    return {
      layer,
      from: { atMm, edge, toleranceMm, beyond: best > 0 ? parts[best - 1].state : null },
      to: {
        atMm: next?.atMm ?? this.reachMm,
        edge: next?.edge ?? null,
        toleranceMm: next?.toleranceMm ?? 0,
        beyond: next?.state ?? null,
      },
    };
  }

  /** Length of all that is in a state; null when something of it is not known, or when it reaches either end. */
  lengthOf(state: InkState): number | null {
    const parts = this.merged();
    if (parts.some((part) => part.state === unknown)) return null;
    if (parts[0].state === state || parts[parts.length - 1].state === state) return null;
    let lengthMm = 0;
    for (let k = 1; k < parts.length - 1; k++)
      if (parts[k].state === state) lengthMm += parts[k + 1].atMm - parts[k].atMm;
    return lengthMm;
  }

  private cutAt(atMm: number, edge: EdgeDirection | null, toleranceMm: number): number {
    let k = this.cuts.length;
    while (k > 0 && this.cuts[k - 1].atMm > atMm) k--;
    if (k > 0 && this.cuts[k - 1].atMm === atMm) return k - 1;
    const { state, layer } = this.cuts[k - 1];
    this.cuts.splice(k, 0, { atMm, edge, toleranceMm, state, layer });
    return k;
  }

  /** The parts without slivers, neighbours of one state together. */
  private merged(): Cut[] {
    const parts: Cut[] = [];
    this.cuts.forEach((cut, k) => {
      const endMm = k + 1 < this.cuts.length ? this.cuts[k + 1].atMm : this.reachMm;
      const last = parts[parts.length - 1];
      if (last !== undefined && (endMm - cut.atMm < sliverMm || last.state === cut.state)) {
        if (cut.layer > last.layer) last.layer = cut.layer;
      } else parts.push({ ...cut });
    });
    return parts;
  }
}
