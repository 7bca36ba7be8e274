import { useContext, useId } from 'preact/hooks';
import { choiceIn, fieldAt } from '../words/fieldWords.ts';
import { useWords } from '../words/useWords.ts';
import { ColourInput } from './ColourInput.tsx';
import { FormContext, namesFor, valueAt } from './FormContext.ts';
import { LengthInput } from './LengthInput.tsx';
import type { FieldProps } from './SchemaField.tsx';
import { unitOf } from './schema.ts';

/** One value with its name, what it is for, and what holds where it is left empty. */
export function PlainField(props: FieldProps) {
  const { schema, path, value } = props;
  const { say, number, language } = useWords();
  const form = useContext(FormContext);
  const id = useId();
  const problem = props.problems.find((one) => one.path === path);
  const { label, about } = fieldAt(language, path);
  const key =
    path
      .replace(/\[\d+\]$/, '')
      .split('.')
      .at(-1) ?? '';
  const unit = unitOf(key);
  const otherwise = valueAt(form.otherwise, path);
  const names = namesFor(form, path);
  const common = {
    id,
    'aria-describedby': `${id}-help`,
    'aria-invalid': problem !== undefined,
    placeholder: isPlain(otherwise) ? String(otherwise) : undefined,
  } as const;
  const text = isPlain(value) ? String(value) : '';
  return (
    <div class="field">
      <label for={id}>{unit === null ? label : `${label} (${unit})`}</label>
      {schema.enum !== undefined || schema.type === 'boolean' ? (
        <select
          {...common}
          value={text}
          onChange={({ currentTarget: { value: chosen } }) =>
            props.onValue(schema.type === 'boolean' && chosen !== '' ? chosen === 'true' : chosen)
          }
        >
          <option value="">{say('form.notGiven')}</option>
          {(schema.enum ?? ['true', 'false']).map((choice) => (
            <option key={choice} value={choice}>
              {choiceIn(language, choice)}
            </option>
          ))}
        </select>
      ) : unit === 'mm' ? (
        <LengthInput common={common} value={value} onValue={props.onValue} />
      ) : schema.type === 'number' || schema.type === 'integer' ? (
        <input
          {...common}
          type="number"
          step={schema.type === 'integer' ? 1 : 'any'}
          min={schema.minimum}
          max={schema.maximum}
          value={text}
          onInput={({ currentTarget }) =>
            props.onValue(currentTarget.value === '' ? undefined : currentTarget.valueAsNumber)
          }
        />
      ) : key === 'colour' ? (
        <ColourInput common={common} label={label} value={text} onValue={props.onValue} />
      ) : (
        <input
          {...common}
          maxLength={schema.maxLength}
          list={names.length === 0 ? undefined : `${id}-names`}
          value={text}
          onInput={({ currentTarget }) => props.onValue(currentTarget.value)}
        />
      )}
      {names.length > 0 && (
        <datalist id={`${id}-names`}>
          {names.map((name) => (
            <option key={name} value={name} />
          ))}
        </datalist>
      )}
      <p class="quiet" id={`${id}-help`}>
        {unit === 'mm' && typeof value === 'number' && <strong>{number(value / 25.4, 3)} in · </strong>}
        {key === 'threadsPerCm' && typeof value === 'number' && <strong>{number(value * 2.54, 0)}/in · </strong>}
        {about}
        {text === '' && isPlain(otherwise) && ` ${say('form.fromShop', { value: String(otherwise) })}`}
        {problem !== undefined && (
          <strong class="problem">
            {say('form.problem', { expected: problem.expected, received: problem.received })}
          </strong>
        )}
      </p>
    </div>
  );
}

function isPlain(value: unknown): value is string | number | boolean {
  return ['string', 'number', 'boolean'].includes(typeof value);
}
