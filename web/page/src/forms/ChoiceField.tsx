import { useId } from 'preact/hooks';
import { fieldAt } from '../words/fieldWords.ts';
import { useWords } from '../words/useWords.ts';
import { type FieldProps, GroupField } from './SchemaField.tsx';
import type { Schema } from './schema.ts';

/** A value that may be written in several ways: a mesh by its name, or by its count and thread. */
export function ChoiceField(props: FieldProps) {
  const { say, language } = useWords();
  const id = useId();
  const choices = props.schema.anyOf ?? [];
  const chosen = choices.findIndex((choice) => fits(choice, props.value));
  const part = choices[chosen];
  return (
    <div class="fields">
      <div class="field">
        <label for={id}>{say('form.written')}</label>
        <select
          id={id}
          value={String(chosen)}
          onChange={({ currentTarget }) => props.onValue(emptyOf(choices[Number(currentTarget.value)]))}
        >
          <option value="-1">{say('form.notGiven')}</option>
          {choices.map((choice, index) => (
            <option key={index} value={String(index)}>
              {choice.type === 'string'
                ? say('form.byName')
                : Object.keys(choice.properties ?? {})
                    .slice(0, 3)
                    .map((name) => fieldAt(language, name).label)
                    .join(', ')}
            </option>
          ))}
        </select>
      </div>
      {part !== undefined && <GroupField {...props} schema={part} />}
    </div>
  );
}

function fits(schema: Schema, value: unknown): boolean {
  if (schema.type === 'object') return typeof value === 'object' && value !== null && !Array.isArray(value);
  if (schema.type === 'array') return Array.isArray(value);
  if (schema.type === 'string') return typeof value === 'string';
  return typeof value === (schema.type === 'integer' ? 'number' : schema.type);
}

function emptyOf(schema: Schema | undefined): unknown {
  if (schema === undefined) return undefined;
  if (schema.type === 'object') return {};
  if (schema.type === 'array') return [];
  return schema.type === 'string' ? '' : (schema.minimum ?? 0);
}
