import { useId } from 'preact/hooks';
import type { ValueProblem } from '../../../shared/shop.ts';
import { useWords } from '../words/useWords.ts';
import { ChoiceField } from './ChoiceField.tsx';
import { ListField, NamedField } from './ListField.tsx';
import { labelOf, type Schema } from './schema.ts';

export interface FieldProps {
  readonly schema: Schema;
  readonly name: string;
  /** As the server names it: "screens[2].mesh.threadUm". */
  readonly path: string;
  readonly value: unknown;
  readonly problems: readonly ValueProblem[];
  onValue(value: unknown): void;
}

/** One value of a ticket or a shop file, as its schema describes it. */
export function SchemaField(props: FieldProps) {
  const { schema } = props;
  if (schema.anyOf !== undefined) return <ChoiceField {...props} />;
  if (schema.type === 'object' && schema.properties !== undefined) return <ObjectField {...props} />;
  if (schema.type === 'object') return <NamedField {...props} />;
  if (schema.type === 'array') return <ListField {...props} />;
  return <PlainField {...props} />;
}

export function ObjectField(props: FieldProps) {
  const { schema, path } = props;
  const value = (props.value ?? {}) as Readonly<Record<string, unknown>>;
  const parts = Object.entries(schema.properties ?? {}).map(([name, part]) => (
    <SchemaField
      key={name}
      schema={part}
      name={name}
      path={path === '' ? name : `${path}.${name}`}
      value={value[name]}
      problems={props.problems}
      onValue={(next) => props.onValue({ ...value, [name]: next })}
    />
  ));
  if (path === '') return <div class="fields">{parts}</div>;
  return (
    <fieldset class="fields">
      <legend>{labelOf(props.name)}</legend>
      {parts}
    </fieldset>
  );
}

function PlainField(props: FieldProps) {
  const { schema, name, path, value } = props;
  const { say, number } = useWords();
  const id = useId();
  const problem = props.problems.find((one) => one.path === path);
  const isNumber = schema.type === 'number' || schema.type === 'integer';
  const common = {
    id,
    'aria-describedby': `${id}-help`,
    'aria-invalid': problem !== undefined,
  } as const;
  return (
    <div class="field">
      <label for={id}>{labelOf(name)}</label>
      {schema.enum !== undefined || schema.type === 'boolean' ? (
        <select
          {...common}
          value={value === undefined ? '' : String(value)}
          onChange={({ currentTarget }) =>
            props.onValue(
              schema.type === 'boolean' && currentTarget.value !== ''
                ? currentTarget.value === 'true'
                : currentTarget.value,
            )
          }
        >
          <option value="">{say('form.notGiven')}</option>
          {(schema.enum ?? ['true', 'false']).map((choice) => (
            <option key={choice} value={choice}>
              {choice}
            </option>
          ))}
        </select>
      ) : isNumber ? (
        <input
          {...common}
          type="number"
          step={schema.type === 'integer' ? 1 : 'any'}
          min={schema.minimum}
          max={schema.maximum}
          value={value === undefined ? '' : String(value)}
          onInput={({ currentTarget }) =>
            props.onValue(currentTarget.value === '' ? undefined : currentTarget.valueAsNumber)
          }
        />
      ) : (
        <input
          {...common}
          maxLength={schema.maxLength}
          value={value === undefined ? '' : String(value)}
          onInput={({ currentTarget }) => props.onValue(currentTarget.value)}
        />
      )}
      <p class="quiet" id={`${id}-help`}>
        {name.endsWith('Mm') && typeof value === 'number' && <strong>{number(value / 25.4, 3)} in · </strong>}
        {name === 'threadsPerCm' && typeof value === 'number' && <strong>{number(value * 2.54, 0)}/in · </strong>}
        {schema.description}
        {problem !== undefined && (
          <strong class="problem">
            {say('form.problem', { expected: problem.expected, received: problem.received })}
          </strong>
        )}
      </p>
    </div>
  );
}
