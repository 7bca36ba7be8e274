import { useWords } from '../words/useWords.ts';
import { Fold } from './Fold.tsx';
import { type FieldProps, GroupField, SchemaField } from './SchemaField.tsx';
import type { Schema } from './schema.ts';

/** A list that grows: the frames of a job, the meshes of a shop. Each item is called by what names it. */
export function ListField({ schema, path, value, problems, onValue }: FieldProps) {
  const { say } = useWords();
  const items = (Array.isArray(value) ? value : []) as readonly unknown[];
  const part = schema.items as Schema;
  return (
    <div class="items">
      {items.map((item, index) => {
        const name = nameOf(item) ?? String(index + 1);
        return (
          <Fold
            key={index}
            label={name}
            about=""
            value={item}
            isOpen={nameOf(item) === null}
            hasProblem={problems.some((problem) => problem.path.startsWith(`${path}[${index}]`))}
          >
            <GroupField
              schema={part}
              path={`${path}[${index}]`}
              value={item}
              problems={problems}
              onValue={(next) => onValue(items.map((one, at) => (at === index ? next : one)))}
            />
            <button type="button" class="button" onClick={() => onValue(items.filter((_item, at) => at !== index))}>
              {say('form.remove', { name })}
            </button>
          </Fold>
        );
      })}
      <button type="button" class="button" onClick={() => onValue([...items, emptyItem(part)])}>
        {say('form.add')}
      </button>
    </div>
  );
}

/** A few values of fixed places: width and height. */
export function FixedListField({ schema, path, value, problems, onValue }: FieldProps) {
  const parts = schema.prefixItems ?? [];
  const items = (Array.isArray(value) ? value : []) as readonly unknown[];
  return (
    <div class="fields">
      {parts.map((part, index) => (
        <SchemaField
          key={index}
          schema={part}
          path={`${path}[${index}]`}
          value={items[index]}
          problems={problems}
          onValue={(next) => onValue(parts.map((_part, at) => (at === index ? next : items[at])))}
        />
      ))}
    </div>
  );
}

function nameOf(item: unknown): string | null {
  const { ink, name, file } = (item ?? {}) as Readonly<Record<string, unknown>>;
  const named = [ink, name, file].find((one) => typeof one === 'string' && one.trim() !== '');
  return named === undefined ? null : String(named);
}

function emptyItem(schema: Schema): unknown {
  return schema.type === 'object' || schema.anyOf !== undefined ? {} : '';
}
