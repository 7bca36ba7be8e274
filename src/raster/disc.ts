/**
 * A set of pixels around an anchor pixel, one unbroken run a row: row `topRow + i` holds the columns `left[i]` to
 * `right[i]`, ends included, all relative to the anchor. Every run holds column 0.
 */
export interface Disc {
  readonly topRow: number;
  readonly left: Int32Array;
  readonly right: Int32Array;
}

/**
 * The digital disc of a whole diameter in pixels: every pixel whose centre lies within diameter / 2 of the disc's
 * centre. The centre is the anchor pixel's centre for odd diameters and its top-left corner for even ones.
 */
export function discOfDiameter(diameterPx: number): Disc {
  if (!Number.isInteger(diameterPx) || diameterPx < 1) {
    throw new RangeError(`diameterPx: expected a whole number of at least 1, received ${diameterPx}`);
  }
  const shift = diameterPx % 2 === 0 ? 0.5 : 0;
  return discWithin(diameterPx / 2, shift, 1);
}

/**
 * The pixels whose centres lie within a radius of the anchor's centre. `rowPitch` is the height of a pixel in units of
 * its width, so that a disc on film is a disc on unequal pixels too.
 */
export function discOfRadius(radiusPx: number, rowPitch = 1): Disc {
  if (!(radiusPx >= 0) || !(rowPitch > 0)) {
    throw new RangeError(`radiusPx, rowPitch: expected 0 or more and more than 0, received ${radiusPx}, ${rowPitch}`);
  }
  return discWithin(radiusPx, 0, rowPitch);
}

/** The disc turned half round its anchor: what a dilation needs to undo the shift of an erosion. */
export function mirroredDisc(disc: Disc): Disc {
  return {
    topRow: -(disc.topRow + disc.left.length - 1),
    left: disc.right.map((column) => -column || 0).reverse(),
    right: disc.left.map((column) => -column || 0).reverse(),
  };
}

function discWithin(radiusPx: number, shift: number, rowPitch: number): Disc {
  // Whole and half numbers have exact squares, so no pixel on the rim is lost to rounding.
  const reach = Math.floor(radiusPx / rowPitch + shift) + 1;
  const left: number[] = [];
  const right: number[] = [];
  let topRow = 0;
  for (let row = -reach; row <= reach; row++) {
    const rest = radiusPx * radiusPx - ((row + shift) * rowPitch) ** 2;
    if (rest < 0) continue;
    const half = Math.sqrt(rest);
    const first = Math.ceil(-half - shift);
    const last = Math.floor(half - shift);
    if (first > last) continue;
    if (left.length === 0) topRow = row;
    left.push(first);
    right.push(last);
  }
  return { topRow, left: Int32Array.from(left), right: Int32Array.from(right) };
}
