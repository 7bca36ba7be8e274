import type { AnyCheck } from './check.ts';
import { extraInk } from './extra-ink.ts';
import { lostIsland } from './lost-island.ts';
import { nearDuplicateInk } from './near-duplicate-ink.ts';
import { smallDot } from './small-dot.ts';
import { thinGap } from './thin-gap.ts';
import { thinLine } from './thin-line.ts';
import { unnamedInk } from './unnamed-ink.ts';

/** Every check, in the order they are run and shown. */
export const checks: readonly AnyCheck[] = [
  extraInk,
  nearDuplicateInk,
  unnamedInk,
  thinLine,
  thinGap,
  smallDot,
  lostIsland,
];
