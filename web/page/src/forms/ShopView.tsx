import { useEffect, useState } from 'preact/hooks';
import { shownText } from '../../../../src/report/words.ts';
import type { Schemas, ShopFacts, ShopPreview, ValueProblem } from '../../../shared/shop.ts';
import { NameField } from '../parts/NameField.tsx';
import { Trouble } from '../parts/Trouble.tsx';
import { VerdictSign } from '../parts/VerdictSign.tsx';
import { change } from '../server/ask.ts';
import { useAnswer } from '../server/useAnswer.ts';
import { useEvents } from '../server/useEvents.ts';
import { remembered } from '../settings.ts';
import { useWords } from '../words/useWords.ts';
import { FormContext, namesOf, valueAt } from './FormContext.ts';
import { problemsOf } from './problemsOf.ts';
import { ObjectField } from './SchemaField.tsx';
import { isGiven, type Schema, withoutEmpty } from './schema.ts';

/** Meshes, presses, inks and limits of the shop; what would change is shown before it is saved. */
export function ShopView() {
  const { say, moment } = useWords();
  const shop = useAnswer<ShopFacts>('/api/shop');
  const schemas = useAnswer<Schemas>('/api/ticket-schema');
  const [values, setValues] = useState<unknown>(null);
  const [problems, setProblems] = useState<readonly ValueProblem[]>([]);
  const [error, setError] = useState<Error | null>(null);
  const [preview, setPreview] = useState<ShopPreview | null>(null);
  const [said, setSaid] = useState('');
  const facts = shop.answer;
  useEffect(() => {
    document.title = `${say('shop')} · Plateglass`;
  }, [say]);
  useEffect(() => {
    if (facts === null) return;
    setValues(facts.values ?? {});
    setProblems(facts.problems);
  }, [facts]);
  useEvents((event) => {
    if (event.what === 'shop') shop.again();
  });
  const attempt = async (work: () => Promise<void>) => {
    setError(null);
    setSaid('');
    try {
      await work();
      setProblems([]);
    } catch (problem) {
      setProblems(problemsOf(problem));
      setError(problem as Error);
    }
  };
  const wanted = () => withoutEmpty(values) ?? {};
  const look = () =>
    attempt(async () => {
      setPreview(await change<ShopPreview>('POST', '/api/shop/preview', { values: wanted() }));
    });
  const save = (event: Event) => {
    event.preventDefault();
    return attempt(async () => {
      const body = { values: wanted(), version: facts?.version ?? '', by: remembered('name') ?? undefined };
      await change<ShopFacts>('PUT', '/api/shop', body);
      setPreview(null);
      setSaid(say('shop.saved'));
      shop.again();
    });
  };
  const trouble = error ?? shop.error ?? schemas.error;
  const schema = schemas.answer?.shop as Schema | undefined;
  const names = { 'press.name': namesOf(values, 'presses'), mesh: namesOf(values, 'meshes') };
  return (
    <main class="plain">
      <h1>{say('shop')}</h1>
      <p>{say('shop.about')}</p>
      {trouble !== null && <Trouble error={trouble} />}
      {schema === undefined || facts === null || values === null ? (
        trouble === null && <p role="status">{say('loading')}</p>
      ) : (
        <form onSubmit={save} noValidate>
          <FormContext.Provider value={{ otherwise: null, names }}>
            <ObjectField
              schema={ofShop(schema, values)}
              path=""
              value={values}
              problems={problems}
              onValue={setValues}
            />
          </FormContext.Provider>
          <NameField />
          <div class="row">
            <button type="button" class="button" onClick={look}>
              {say('shop.preview')}
            </button>
            <button type="submit" class="button strong">
              {say('save')}
            </button>
          </div>
          <p role="status">{said}</p>
        </form>
      )}
      {preview !== null && <Preview preview={preview} />}
      {facts !== null && facts.history.length > 0 && (
        <details class="history">
          <summary>{say('history')}</summary>
          <ol>
            {facts.history.map(({ at, by, version }) => (
              <li key={version}>
                <span class="quiet">{moment(at)}</span> {by}
              </li>
            ))}
          </ol>
        </details>
      )}
    </main>
  );
}

/** What belongs to a single job is left out, unless the file has it. */
function ofShop(schema: Schema, values: unknown): Schema {
  const isOfJob = (key: string) => ['job', 'customer', 'screens'].includes(key) && !isGiven(valueAt(values, key));
  const kept = Object.entries(schema.properties ?? {}).filter(([key]) => !isOfJob(key));
  return { ...schema, properties: Object.fromEntries(kept) };
}

function Preview({ preview }: { readonly preview: ShopPreview }) {
  const { say } = useWords();
  return (
    <section aria-label={say('shop.changes')} class="preview">
      <h2>{say('shop.changes')}</h2>
      {preview.jobs.length === 0 && <p>{say('shop.noJobs')}</p>}
      <ul class="plain-list">
        {preview.jobs.map((job) => (
          <li key={job.jobId} class="row">
            <strong>{shownText(job.jobName)}</strong> <VerdictSign verdict={job.before} /> →{' '}
            {job.after === null ? <span>{job.why}</span> : <VerdictSign verdict={job.after} />}
            {job.before === job.after && <span class="quiet">{say('shop.same')}</span>}
            <span class="quiet">{job.checks.map(({ checkId }) => checkId).join(', ')}</span>
          </li>
        ))}
      </ul>
    </section>
  );
}
