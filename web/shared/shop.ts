import type { Verdict } from '../../src/findings/outcome.ts';

/** GET /api/shop. */
export interface ShopFacts {
  /** As the shop schema says; null when the file has mistakes, which `problems` tells. */
  readonly values: Readonly<Record<string, unknown>> | null;
  readonly problems: readonly ValueProblem[];
  /** Of what is there now; PUT must name it, so that nobody overwrites what they have not seen. */
  readonly version: string;
  /** Latest first. */
  readonly history: readonly ShopChange[];
}

export interface ShopChange {
  readonly at: number;
  readonly by: string;
  readonly version: string;
}

/** PUT /api/shop, answered by `ShopFacts`. */
export interface NewShop {
  readonly values: Readonly<Record<string, unknown>>;
  readonly version: string;
  readonly by?: string;
}

/** A mistake in a ticket or a shop, at a path such as "screens[2].mesh.threadUm". */
export interface ValueProblem {
  readonly path: string;
  readonly expected: string;
  readonly received: string;
}

/** POST /api/shop/preview { values }: recent jobs judged with these values. */
export interface ShopPreview {
  readonly jobs: readonly {
    readonly jobId: number;
    readonly jobName: string;
    readonly revision: number;
    readonly before: Verdict;
    /** Null when it could not be checked again; `why` says so. */
    readonly after: Verdict | null;
    readonly why: string | null;
    /** From what was measured before; false: its films were measured again. */
    readonly judgedAgain: boolean;
    readonly checks: readonly { readonly checkId: string; readonly before: string; readonly after: string }[];
  }[];
}

/** GET /api/ticket-schema: JSON Schema (draft 2020-12) of both files. */
export interface Schemas {
  readonly ticket: Readonly<Record<string, unknown>>;
  readonly shop: Readonly<Record<string, unknown>>;
}
