/*
 * How broad a shape is at pixels near its middle: the same search as `EdgeFinder.widthAcross`, for many pixels at once.
 */
let plane: usize = 0;
let wordsPerRow: i32 = 0;
let widthPx: i32 = 0;
let heightPx: i32 = 0;
let rowPitch: f64 = 1;
let flip: u32 = 0;
let offsetColumn: i32 = 0;
let offsetRow: i32 = 0;

/** How much further than twice the near edge the edge opposite is looked for: peeled lines run beside the middle. */
const beside: f64 = 6;
/** Columns to the right that one look takes in: 64 less the 31 before, the pixel itself and up to 7 to whole bytes. */
const windowReach: i32 = 25;

export function beginWidths(
  planeAt: usize,
  words: i32,
  width: i32,
  height: i32,
  inverted: bool,
  pitch: f64,
): void {
  plane = planeAt;
  wordsPerRow = words;
  widthPx = width;
  heightPx = height;
  flip = inverted ? <u32>-1 : 0;
  rowPitch = pitch;
}

/**
 * Widths at pixels given by their columns and rows on a plane reduced by `scale` (1 or 2): there any pixel of the four
 * that is on the shape will do, as the two sides are measured together; 0 where none is.
 */
export function widthsAcross(columns: usize, rows: usize, count: i32, scale: i32, limit: f64, widths: usize): void {
  for (let k = 0; k < count; k++) {
    const column = load<i32>(columns + (k << 2)) * scale;
    const row = load<i32>(rows + (k << 2)) * scale;
    let width: f64 = 0;
    for (let part = 0; part < scale * scale; part++) {
      const c = column + (part & 1);
      const r = row + (part >> 1);
      if (scale > 1 && !holds(c, r)) continue;
      width = widthAcross(c, r, limit);
      break;
    }
    store<f32>(widths + (k << 2), <f32>width);
  }
}

// @ts-ignore: decorator
@inline
function isBeyond(column: i32, row: i32): bool {
  return <u32>column >= <u32>widthPx || <u32>row >= <u32>heightPx;
}

// @ts-ignore: decorator
@inline
function wordAt(row: i32, index: i32): u32 {
  return load<u32>(plane + ((row * wordsPerRow + index) << 2)) ^ flip;
}

function holds(column: i32, row: i32): bool {
  if (isBeyond(column, row)) return flip != 0;
  return ((wordAt(row, column >> 5) >>> (column & 31)) & 1) == 1;
}

function nearest(column: i32, row: i32, limit: f64): f64 {
  let best = limit * limit;
  let found = false;
  for (let step = 0; ; step++) {
    const down = <f64>step * rowPitch;
    if (down * down >= best) break;
    for (let sign = step == 0 ? 1 : -1; sign <= 1; sign += 2) {
      const most = Math.sqrt(best - down * down);
      lookAcross(column, row + sign * step, most);
      const left = leftWay;
      const right = rightWay;
      const across = Math.min(left, right);
      const squared = across * across + down * down;
      if (squared >= best) continue;
      best = squared;
      found = true;
      offsetColumn = right < left ? <i32>right : -(<i32>left);
      offsetRow = sign * step;
    }
  }
  return found ? Math.sqrt(best) : Infinity;
}

let leftWay: f64 = 0;
let rightWay: f64 = 0;

/** Ways on a row to the first pixel off the shape on either side; what lies further right than left may be left out. */
function lookAcross(column: i32, row: i32, most: f64): void {
  const first = column - 31;
  if (most <= windowReach && first >= 0 && column + 33 < widthPx && <u32>row < <u32>heightPx) {
    // One look takes in the 31 columns before and at least as many after as are asked for.
    const at = plane + ((row * wordsPerRow) << 2) + (first >> 3);
    const off = ~(load<u64>(at) ^ <u64>(<i64>(<i32>flip))) >>> (first & 7);
    const before = <u32>off;
    const after = <u32>(off >>> 31) & ((1 << (windowReach + 1)) - 1);
    const left: f64 = before == 0 ? Infinity : <f64>clz(before);
    const right: f64 = after == 0 ? Infinity : <f64>ctz(after);
    leftWay = left <= most ? left : Infinity;
    rightWay = left != 0 && right <= Math.min(most, leftWay) ? right : Infinity;
    return;
  }
  leftWay = toLeft(column, row, most);
  rightWay = leftWay == 0 ? Infinity : toRight(column, row, Math.min(most, leftWay));
}

function toLeft(column: i32, row: i32, limit: f64): f64 {
  if (isBeyond(column, row)) return flip == 0 ? 0 : Infinity;
  let index = column >> 5;
  const last = column & 31;
  let off = ~wordAt(row, index) & (last == 31 ? <u32>-1 : ((<u32>1) << (last + 1)) - 1);
  let distance = last;
  while (off == 0) {
    if (index == 0) return flip == 0 && <f64>(column + 1) <= limit ? <f64>(column + 1) : Infinity;
    if (<f64>(distance + 1) > limit) return Infinity;
    off = ~wordAt(row, --index);
    distance += 32;
  }
  distance -= 31 - <i32>clz(off);
  return <f64>distance <= limit ? <f64>distance : Infinity;
}

function toRight(column: i32, row: i32, limit: f64): f64 {
  if (isBeyond(column, row)) return flip == 0 ? 0 : Infinity;
  let index = column >> 5;
  let off = ~wordAt(row, index) & ((<u32>-1) << (column & 31));
  let distance = -(column & 31);
  while (off == 0) {
    index++;
    distance += 32;
    if (index >= wordsPerRow) {
      const edge = widthPx - column;
      return flip == 0 && <f64>edge <= limit ? <f64>edge : Infinity;
    }
    if (<f64>distance > limit) return Infinity;
    off = ~wordAt(row, index);
  }
  distance += <i32>ctz(off);
  return <f64>distance <= limit ? <f64>distance : Infinity;
}

function widthAcross(column: i32, row: i32, limit: f64): f64 {
  const near = nearest(column, row, limit);
  if (near == Infinity || near == 0) return near;
  const dx = -offsetColumn;
  const dy = -offsetRow;
  const steps = <f64>max(abs(dx), abs(dy));
  const far = reachOpposite(column, row, near, dx, dy, 2 * near + beside);
  const aside = Math.round(((far - near) / 2) * (steps / near));
  if (aside < 1 || far == Infinity) return across(near, far, steps);
  // Peeled lines run beside the middle, by more the broader the shape. In a corner the step aside leads nearer to the other edge.
  const c = column + <i32>Math.round((aside * <f64>dx) / steps);
  const r = row + <i32>Math.round((aside * <f64>dy) / steps);
  const centred = nearest(c, r, limit);
  if (centred <= near || centred == Infinity) return across(near, far, steps);
  const backX = -offsetColumn;
  const backY = -offsetRow;
  const opposite = reachOpposite(c, r, centred, backX, backY, centred + 2);
  return across(centred, opposite, <f64>max(abs(backX), abs(backY)));
}

function reachOpposite(column: i32, row: i32, near: f64, dx: i32, dy: i32, most: f64): f64 {
  const steps = <f64>max(abs(dx), abs(dy));
  const stride = near / steps;
  for (let k = Math.max(1, steps - 1); k * stride <= most; k++) {
    const c = column + <i32>Math.round((k * <f64>dx) / steps);
    const r = row + <i32>Math.round((k * <f64>dy) / steps);
    if (!holds(c, r)) return k * stride;
  }
  return Infinity;
}

/** Edges pass half-way between pixel centres: half a pixel short of them along the rows, less across the diagonal. */
function across(near: f64, far: f64, steps: f64): f64 {
  const stride = near / steps;
  return near + (far <= near + 1.6 * stride ? far : near + stride / 2) - 1 / stride;
}
