/** As much of JSON Schema as tickets and shop files are described with. */
export interface Schema {
  readonly type?: string;
  readonly description?: string;
  readonly properties?: Readonly<Record<string, Schema>>;
  readonly required?: readonly string[];
  readonly items?: boolean | Schema;
  readonly prefixItems?: readonly Schema[];
  readonly anyOf?: readonly Schema[];
  readonly enum?: readonly string[];
  readonly minimum?: number;
  readonly maximum?: number;
  readonly minLength?: number;
  readonly maxLength?: number;
  readonly maxItems?: number;
}

/** A value without what was left empty; undefined when nothing is left of it. */
export function withoutEmpty(value: unknown): unknown {
  if (value === '' || value === null || value === undefined) return undefined;
  if (Array.isArray(value)) {
    const items = value.map(withoutEmpty).filter((item) => item !== undefined);
    return items.length === 0 ? undefined : items;
  }
  if (typeof value !== 'object') return value;
  const entries = Object.entries(value).flatMap(([name, item]) => {
    const kept = withoutEmpty(item);
    return kept === undefined ? [] : [[name, kept] as const];
  });
  return entries.length === 0 ? undefined : Object.fromEntries(entries);
}

/** Whether anything is given in a value or below it. */
export function isGiven(value: unknown): boolean {
  return withoutEmpty(value) !== undefined;
}

/** How many single values are given in it. */
export function countGiven(value: unknown): number {
  if (!isGiven(value)) return 0;
  if (typeof value !== 'object') return 1;
  return Object.values(value as object).reduce((sum: number, part) => sum + countGiven(part), 0);
}

/** The unit a key ends in: mm of "minLineMm"; null where it has none. */
export function unitOf(key: string): string | null {
  const end = /(Mm|Um|Pt|Ppi|Deg|Percent)$/.exec(key)?.[1];
  return key === 'dpi' ? 'dpi' : end === undefined ? null : units[end];
}

const units: Readonly<Record<string, string>> = { Mm: 'mm', Um: 'µm', Pt: 'pt', Ppi: 'ppi', Deg: '°', Percent: '%' };
