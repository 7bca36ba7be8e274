/** How the plates are to be seen; plain data that is handed to the workers that paint tiles. */
export interface InkLook {
  readonly way: 'shirt' | 'films' | 'edges';
  /** The shirt, or the light table. */
  readonly ground: Rgb;
  /** One a plate, in the order they are printed; the number is that of the plate in the list. */
  readonly inks: readonly InkOfLook[];
  /** Whatever is covered at all is shown as covered, so that hairlines are seen from afar. */
  readonly keepsHairlines: boolean;
}

export interface InkOfLook {
  readonly plate: number;
  readonly colour: Rgb;
  /** 0 = not seen. */
  readonly opacity: number;
}

export type Rgb = readonly [number, number, number];

export function rgbOf(hex: string): Rgb {
  const value = Number.parseInt(hex.slice(1), 16);
  return [(value >> 16) & 255, (value >> 8) & 255, value & 255];
}

const bare: Rgb = [0xf4, 0xf3, 0xee];
const single: Rgb = [0x9a, 0xa3, 0xad];
const shared: Rgb = [0x1d, 0x27, 0x33];

/** The colour of a pixel of which each plate covers a share, 0 to 255, written to `into` at `at`. */
export function paintPixel(
  look: InkLook,
  coverOf: (plate: number) => number,
  into: Uint8ClampedArray,
  at: number,
): void {
  if (look.way === 'edges') {
    paintEdges(look, coverOf, into, at);
    return;
  }
  let [red, green, blue] = look.ground;
  for (const { plate, colour, opacity } of look.inks) {
    const cover = look.keepsHairlines && coverOf(plate) > 0 ? 255 : coverOf(plate);
    if (cover === 0 || opacity === 0) continue;
    const share = (cover / 255) * opacity;
    red += (colour[0] - red) * share;
    green += (colour[1] - green) * share;
    blue += (colour[2] - blue) * share;
  }
  into[at] = red;
  into[at + 1] = green;
  into[at + 2] = blue;
  into[at + 3] = 255;
}

/** Bare film, one plate, or more than one: told apart by lightness alone. */
function paintEdges(look: InkLook, coverOf: (plate: number) => number, into: Uint8ClampedArray, at: number): void {
  // What each share of one and of more than one plate is worth, taken as lying independently of each other.
  let none = 1;
  let one = 0;
  for (const { plate, opacity } of look.inks) {
    if (opacity === 0) continue;
    const cover = coverOf(plate) / 255;
    one = one * (1 - cover) + none * cover;
    none *= 1 - cover;
  }
  const more = Math.max(0, 1 - none - one);
  for (let k = 0; k < 3; k++) into[at + k] = none * bare[k] + one * single[k] + more * shared[k];
  into[at + 3] = 255;
}
