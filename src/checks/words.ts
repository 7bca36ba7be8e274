/** A length as people read it: two decimals, `0.31 mm`. */
export function mm(value: number): string {
  return `${value.toFixed(2)} mm`;
}

/** A length rounded up to hundredths, for what is asked of people: what they then draw is never short of the limit. */
export function mmUp(value: number): string {
  return mm(Math.ceil(value * 100 - 1e-6) / 100);
}

/** A large length: one decimal, `380.0 mm`. */
export function wideMm(value: number): string {
  return `${value.toFixed(1)} mm`;
}

/** A share: whole from 10 on, one decimal below. */
export function percent(value: number): string {
  return `${value >= 10 ? value.toFixed(0) : value.toFixed(1)} %`;
}

/** `Coral`, `Coral and Night`, `Coral, Lagoon and Night`. */
export function listed(names: readonly string[]): string {
  if (names.length === 0) return 'this film';
  if (names.length === 1) return names[0];
  return `${names.slice(0, -1).join(', ')} and ${names[names.length - 1]}`;
}

/** `1 line`, `17 lines`. */
export function counted(count: number, one: string, many = `${one}s`): string {
  return `${count} ${count === 1 ? one : many}`;
}

/** The first word or the second, as the count asks. */
export function oneOrMany(count: number, one: string, many: string): string {
  return count === 1 ? one : many;
}
