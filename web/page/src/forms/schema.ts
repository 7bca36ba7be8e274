/** As much of JSON Schema as tickets and shop files are described with. */
export interface Schema {
  readonly type?: string;
  readonly description?: string;
  readonly properties?: Readonly<Record<string, Schema>>;
  readonly required?: readonly string[];
  /** What a named list holds: the meshes of a shop by name. */
  readonly additionalProperties?: boolean | Schema;
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

/** "minLineMm" as people read it: "Min line (mm)". */
export function labelOf(name: string): string {
  if (name === 'screens') return 'Frames';
  const unit = /(Mm|Um|Pt|Lpi|Dpi|Deg|Percent|PerCm|PerInch)$/.exec(name)?.[1];
  const bare = unit === undefined ? name : name.slice(0, -unit.length);
  const words = bare.replace(/([A-Z])/g, (letter) => ` ${letter.toLowerCase()}`).trim() || name;
  return `${words[0].toUpperCase()}${words.slice(1)}${unit === undefined ? '' : ` (${units[unit]})`}`;
}

const units: Readonly<Record<string, string>> = {
  Mm: 'mm',
  Um: 'µm',
  Pt: 'pt',
  Lpi: 'lpi',
  Dpi: 'dpi',
  Deg: '°',
  Percent: '%',
  PerCm: '/cm',
  PerInch: '/in',
};
