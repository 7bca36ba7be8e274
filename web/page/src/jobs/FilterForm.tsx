import type { MessageKey } from '../words/en.ts';
import { useWords } from '../words/useWords.ts';

export interface Filter {
  readonly text: string;
  readonly verdict: string;
  readonly state: string;
  readonly standing: string;
  /** Arrived within so many days. */
  readonly days: string;
}

const choices: readonly {
  readonly name: 'verdict' | 'state' | 'standing' | 'days';
  readonly values: readonly string[];
}[] = [
  { name: 'verdict', values: ['pass', 'needsReview', 'fail', 'couldNotRun'] },
  { name: 'state', values: ['waiting', 'working', 'checked', 'couldNotRun', 'setAside'] },
  { name: 'standing', values: ['none', 'released', 'onHold'] },
  { name: 'days', values: ['1', '7', '30'] },
];

const dayMs = 86_400_000;

export function queryOf(filter: Filter, nowMs: number): string {
  const query = new URLSearchParams();
  for (const name of ['text', 'verdict', 'state', 'standing'] as const)
    if (filter[name].trim() !== '') query.set(name, filter[name].trim());
  // To the hour, so that the same question has the same address.
  if (filter.days !== '')
    query.set('from', String(Math.floor((nowMs - Number(filter.days) * dayMs) / 3_600_000) * 3_600_000));
  return query.toString();
}

export function FilterForm(props: { readonly filter: Filter; readonly onFilter: (filter: Filter) => void }) {
  const { filter } = props;
  const { say } = useWords();
  return (
    <search>
      <form class="filter" onSubmit={(event) => event.preventDefault()}>
        <label>
          {say('filter.text')}
          <input
            type="search"
            value={filter.text}
            onInput={(event) => props.onFilter({ ...filter, text: event.currentTarget.value })}
          />
        </label>
        {choices.map(({ name, values }) => (
          <label key={name}>
            {say(`filter.${name}`)}
            <select
              value={filter[name]}
              onChange={(event) => props.onFilter({ ...filter, [name]: event.currentTarget.value })}
            >
              <option value="">{say('filter.any')}</option>
              {values.map((value) => (
                <option key={value} value={value}>
                  {name === 'days' ? say('filter.lastDays', { days: Number(value) }) : say(choiceKey(name, value))}
                </option>
              ))}
            </select>
          </label>
        ))}
      </form>
    </search>
  );
}

function choiceKey(name: string, value: string): MessageKey {
  return (name === 'standing' && value === 'none' ? 'filter.undecided' : `${name}.${value}`) as MessageKey;
}
