import { type ColourSpace, hexOf, indexedComponents } from './colourSpace.ts';
import { allKey, blackKey, type InkBook, processKeys, whiteKey } from './inkBook.ts';

/**
 * What a painted object does to every channel. `named` holds the channels it speaks of: a tint (0–1), or null where
 * the channel is left as it is. Any other channel is left alone when `leavesOthers`, else cleared. `everywhere` is the
 * tint of the registration colour, which paints every channel there is.
 */
export interface Paint {
  readonly named: ReadonlyMap<string, number | null>;
  readonly leavesOthers: boolean;
  readonly everywhere: number | null;
}

/** The tint a channel gets, or null where it keeps what lies below. */
export function tintOf(paint: Paint, key: string): number | null {
  if (paint.everywhere !== null) return key === whiteKey ? 0 : paint.everywhere;
  const named = paint.named.get(key);
  if (named !== undefined) return named;
  return paint.leavesOthers ? null : 0;
}

/** Channels with ink, and their tints; the registration colour stands for itself. */
export function inkedTints(paint: Paint): { readonly key: string; readonly tintRatio: number }[] {
  if (paint.everywhere !== null) return paint.everywhere > 0 ? [{ key: allKey, tintRatio: paint.everywhere }] : [];
  const out: { key: string; tintRatio: number }[] = [];
  for (const [key, tint] of paint.named) if (tint !== null && tint > 0) out.push({ key, tintRatio: tint });
  return out;
}

export interface Overprint {
  readonly on: boolean;
  readonly mode: 0 | 1;
}

/**
 * The paint of a colour (ISO 32000-1, 8.6.7 and table 149). Null: nothing is painted at all, as with `None`.
 * `directly` is false for samples of images and shadings, on which overprint mode 1 does not act.
 */
export function paintOf(
  space: ColourSpace,
  components: readonly number[],
  overprint: Overprint,
  inks: InkBook,
  directly = true,
): Paint | null {
  const named = new Map<string, number | null>();
  let everywhere: number | null = null;
  switch (space.kind) {
    case 'gray':
      for (const key of processKeys) named.set(key, 0);
      named.set(blackKey, 1 - ratio(components[0]));
      break;
    case 'cmyk': {
      const skipsZero = overprint.on && overprint.mode === 1 && space.direct && directly;
      for (const [k, key] of processKeys.entries()) {
        const tint = ratio(components[k]);
        named.set(key, tint === 0 && skipsZero ? null : tint);
      }
      break;
    }
    case 'rgb': {
      const key = inks.keyOfFlat(hexOf(space.toRgb(components)));
      if (key !== null) named.set(key, 1);
      break;
    }
    case 'inks': {
      let any = false;
      for (const [k, key] of space.keys.entries()) {
        if (key === null) continue;
        any = true;
        const tint = ratio(components[k]);
        if (key === allKey) everywhere = Math.max(everywhere ?? 0, tint);
        else named.set(key, Math.max(named.get(key) ?? 0, tint));
      }
      if (!any) return null;
      break;
    }
    case 'indexed': {
      return paintOf(space.base, indexedComponents(space, components[0] ?? 0), overprint, inks, false);
    }
    case 'pattern':
      return null;
  }
  return { named, leavesOthers: overprint.on, everywhere };
}

function ratio(value: number | undefined): number {
  return value === undefined || !(value > 0) ? 0 : Math.min(1, value);
}
