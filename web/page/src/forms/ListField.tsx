import { useState } from 'preact/hooks';
import { useWords } from '../words/useWords.ts';
import { type FieldProps, SchemaField } from './SchemaField.tsx';
import { labelOf, type Schema } from './schema.ts';

/** A list that grows, or a few values of fixed places (width and height). */
export function ListField(props: FieldProps) {
  const { schema, path } = props;
  const { say } = useWords();
  const value = (Array.isArray(props.value) ? props.value : []) as readonly unknown[];
  const fixed = schema.prefixItems;
  const count = fixed?.length ?? value.length;
  const set = (index: number, next: unknown) =>
    props.onValue(Array.from({ length: Math.max(count, index + 1) }, (_, at) => (at === index ? next : value[at])));
  return (
    <fieldset class="fields">
      <legend>{labelOf(props.name)}</legend>
      {Array.from({ length: count }, (_, index) => (
        <div key={index} class="item">
          <SchemaField
            schema={fixed?.[index] ?? (schema.items as Schema)}
            name={fixed === undefined ? String(index + 1) : `${props.name} ${index + 1}`}
            path={`${path}[${index}]`}
            value={value[index]}
            problems={props.problems}
            onValue={(next) => set(index, next)}
          />
          {fixed === undefined && (
            <button
              type="button"
              class="button"
              onClick={() => props.onValue(value.filter((_item, at) => at !== index))}
            >
              {say('form.remove', { name: index + 1 })}
            </button>
          )}
        </div>
      ))}
      {fixed === undefined && (
        <button type="button" class="button" onClick={() => set(value.length, emptyItem(schema.items as Schema))}>
          {say('form.add')}
        </button>
      )}
    </fieldset>
  );
}

/** Things by name: the meshes of the shop. */
export function NamedField(props: FieldProps) {
  const { schema, path } = props;
  const { say } = useWords();
  const [name, setName] = useState('');
  const value = (props.value ?? {}) as Readonly<Record<string, unknown>>;
  const part = schema.additionalProperties;
  if (typeof part !== 'object') return null;
  return (
    <fieldset class="fields">
      <legend>{labelOf(props.name)}</legend>
      {Object.entries(value).map(([key, item]) => (
        <div key={key} class="item">
          <SchemaField
            schema={part}
            name={key}
            path={`${path}.${key}`}
            value={item}
            problems={props.problems}
            onValue={(next) => props.onValue({ ...value, [key]: next })}
          />
          <button
            type="button"
            class="button"
            onClick={() => props.onValue(Object.fromEntries(Object.entries(value).filter(([one]) => one !== key)))}
          >
            {say('form.remove', { name: key })}
          </button>
        </div>
      ))}
      <div class="row">
        <label>
          {say('form.newName')}
          <input value={name} onInput={({ currentTarget }) => setName(currentTarget.value)} />
        </label>
        <button
          type="button"
          class="button"
          disabled={name.trim() === '' || name in value}
          onClick={() => {
            props.onValue({ ...value, [name.trim()]: emptyItem(part) });
            setName('');
          }}
        >
          {say('form.add')}
        </button>
      </div>
    </fieldset>
  );
}

function emptyItem(schema: Schema): unknown {
  return schema.type === 'object' || schema.anyOf !== undefined ? {} : '';
}
