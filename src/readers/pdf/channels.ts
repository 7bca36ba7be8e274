import { type ColourSpace, indexedComponents } from './colourSpace.ts';
import type { InkBook } from './inkBook.ts';
import { allKey, blackKey, processKeys, whiteKey } from './inkBook.ts';
import { type Paint, paintOf, tintOf } from './paint.ts';

/** Whether a colour of this space speaks of the channel at all; if not, overprint leaves the channel alone. */
export function speaksOf(space: ColourSpace, key: string): boolean {
  switch (space.kind) {
    case 'gray':
    case 'cmyk':
      return (processKeys as readonly string[]).includes(key);
    case 'inks':
      return space.keys.includes(key) || (key !== whiteKey && space.keys.includes(allKey));
    case 'indexed':
      return speaksOf(space.base, key);
    default:
      return false;
  }
}

/** Whether samples of this space can put ink into the channel. */
export function canInk(space: ColourSpace, key: string): boolean {
  if (space.kind === 'gray') return key === blackKey;
  if (space.kind === 'indexed' && space.base.kind === 'rgb') return space.highest < 16;
  return speaksOf(space, key);
}

/**
 * The colour space as the file of a pass has it: the same samples, turned into red, green and blue that carry the
 * tints of the channels (0 = opaque).
 */
export function passSpace(space: ColourSpace, channels: readonly string[], inks: InkBook): string {
  switch (space.kind) {
    case 'gray':
      return separation(
        channels.map((key) => (key === blackKey ? 0 : 1)),
        [1, 1, 1],
      );
    case 'cmyk':
      return deviceN(
        4,
        channels.map((key) => (processKeys as readonly string[]).indexOf(key)),
      );
    case 'inks': {
      const indices = channels.map((key) => {
        const own = space.keys.indexOf(key);
        return own >= 0 || key === whiteKey ? own : space.keys.indexOf(allKey);
      });
      if (space.components > 1) return deviceN(space.components, indices);
      return separation(
        [1, 1, 1],
        indices.map((index) => (index >= 0 ? 0 : 1)),
      );
    }
    case 'indexed': {
      let table = '';
      for (let k = 0; k <= space.highest; k++) {
        const paint = entryPaint(space, k, inks);
        for (const key of channels) {
          const tint = paint ? (tintOf(paint, key) ?? 0) : 0;
          table += Math.round(255 * (1 - tint))
            .toString(16)
            .padStart(2, '0');
        }
      }
      return `[/Indexed/DeviceRGB ${space.highest} <${table}>]`;
    }
    default:
      return deviceN(space.components, [-1, -1, -1]);
  }
}

function entryPaint(space: ColourSpace & { kind: 'indexed' }, index: number, inks: InkBook): Paint | null {
  if (space.base.kind === 'rgb' && space.highest >= 16) return null;
  return paintOf(space.base, indexedComponents(space, index), { on: false, mode: 0 }, inks, false);
}

function separation(atZero: readonly number[], atOne: readonly number[]): string {
  return `[/Separation/A/DeviceRGB<</FunctionType 2/Domain[0 1]/C0[${atZero.join(' ')}]/C1[${atOne.join(' ')}]/N 1>>]`;
}

/** A space of several components in which channel k shows one minus component `indices[k]`, or paper where −1. */
function deviceN(count: number, indices: readonly number[]): string {
  const names = Array.from({ length: count }, (_, k) => `/A${k}`).join('');
  return `[/DeviceN[${names}]/DeviceRGB @function:${count}:${indices.join(',')}@]`;
}

/** Replaces the placeholders of `deviceN` by references to functions. */
export function withFunctions(text: string, add: (entries: string, data: Uint8Array) => string): string {
  return text.replace(/@function:(\d+):([-\d,]+)@/, (_, countText: string, indexText: string) => {
    const count = Number(countText);
    const indices = indexText.split(',').map(Number);
    const domain = '0 1 '.repeat(count);
    const common = `/Domain[${domain}]/Range[0 1 0 1 0 1]`;
    if (count <= 6) {
      // Corner samples suffice: every channel is linear in its component.
      const samples = new Uint8Array(3 << count);
      for (let corner = 0; corner < 1 << count; corner++) {
        for (let k = 0; k < 3; k++) samples[3 * corner + k] = indices[k] >= 0 && (corner >> indices[k]) & 1 ? 0 : 255;
      }
      const size = '2 '.repeat(count);
      return add(`/FunctionType 0${common}/Size[${size}]/BitsPerSample 8`, samples);
    }
    const steps = indices.map((index, k) => (index >= 0 ? `${count - 1 - index + k} index 1 exch sub` : '1')).join(' ');
    const program = `{${steps} ${count + 3} 3 roll ${'pop '.repeat(count)}}`;
    return add(`/FunctionType 4${common}`, Buffer.from(program, 'latin1'));
  });
}
