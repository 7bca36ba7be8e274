import { createContext } from 'preact';

/** What a form knows beside the values it changes. */
export interface FormFacts {
  /** What holds where nothing is given: the values of the shop. */
  readonly otherwise: unknown;
  /** Names to choose from, by the end of a path: "press.name", "mesh", "ink". */
  readonly names: Readonly<Record<string, readonly string[]>>;
}

export const FormContext = createContext<FormFacts>({ otherwise: null, names: {} });

/** The value at a path such as "press.platenMm[0]"; undefined where there is none. */
export function valueAt(values: unknown, path: string): unknown {
  return path
    .split(/[.[\]]/)
    .filter((part) => part !== '')
    .reduce<unknown>(
      (value, part) =>
        typeof value === 'object' && value !== null ? (value as Readonly<Record<string, unknown>>)[part] : undefined,
      values,
    );
}

export function namesFor({ names }: FormFacts, path: string): readonly string[] {
  const plain = path.replace(/\[\d+\]/g, '');
  return Object.entries(names).find(([end]) => plain === end || plain.endsWith(`.${end}`))?.[1] ?? [];
}

/** The names of what a shop has. */
export function namesOf(values: unknown, key: 'meshes' | 'presses'): readonly string[] {
  const list = valueAt(values, key);
  return (Array.isArray(list) ? list : []).flatMap(({ name }: { name?: unknown }) =>
    typeof name === 'string' ? [name] : [],
  );
}
