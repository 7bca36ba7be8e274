/** Makes sure that the memory reaches as far as `end`. */
export function reserve(end: usize): void {
  const missing = <i32>((end - 1) >> 16) + 1 - memory.size();
  if (missing > 0) memory.grow(missing);
}

// @ts-ignore: decorator
@inline
export function at(numbers: usize, i: i32): f64 {
  return load<f64>(numbers + (<usize>i << 3));
}

// @ts-ignore: decorator
@inline
export function put(numbers: usize, i: i32, value: f64): void {
  store<f64>(numbers + (<usize>i << 3), value);
}

/** Room for so many numbers. */
// @ts-ignore: decorator
@inline
export function roomFor(numbers: i32): usize {
  return <usize>numbers << 3;
}

// @ts-ignore: decorator
@inline
export function isNone(value: f64): bool {
  return value != value;
}
