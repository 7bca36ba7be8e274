import { useEffect, useMemo, useState } from 'preact/hooks';
import { shownText } from '../../../../src/report/words.ts';
import type { TicketFacts } from '../../../shared/judged.ts';
import type { Schemas, ShopFacts } from '../../../shared/shop.ts';
import { Link } from '../parts/Link.tsx';
import { NameField } from '../parts/NameField.tsx';
import { Trouble } from '../parts/Trouble.tsx';
import { useReview } from '../review/useReview.ts';
import { goTo } from '../route.ts';
import { change } from '../server/ask.ts';
import { useAnswer } from '../server/useAnswer.ts';
import { remembered } from '../settings.ts';
import { useWords } from '../words/useWords.ts';
import { FormContext, namesOf } from './FormContext.ts';
import { problemsOf } from './problemsOf.ts';
import { ObjectField } from './SchemaField.tsx';
import { type Schema, withoutEmpty } from './schema.ts';
import { useJudged } from './useJudged.ts';
import { WhatChanges } from './WhatChanges.tsx';

/** The ticket of a job; what it comes to is shown while it is changed. */
export function TicketView({ jobId }: { readonly jobId: number }) {
  const { say } = useWords();
  const { job, revision, report } = useReview(jobId, null);
  const base = revision === null ? null : `/api/jobs/${jobId}/${revision.revision}`;
  const written = useAnswer<TicketFacts>(base && `${base}/ticket`);
  const schemas = useAnswer<Schemas>('/api/ticket-schema');
  const shop = useAnswer<ShopFacts>('/api/shop');
  const [ticket, setTicket] = useState<unknown>(null);
  const [sendError, setSendError] = useState<Error | null>(null);
  useEffect(() => {
    if (written.answer !== null && ticket === null) setTicket(written.answer.values ?? {});
  }, [written.answer]);
  useEffect(() => {
    if (job.answer !== null)
      document.title = `${say('ticket.title', { job: shownText(job.answer.jobName) })} · Plateglass`;
  }, [job.answer, say]);
  const wanted = withoutEmpty(ticket) ?? {};
  const before = report.answer;
  const judged = useJudged(ticket === null || before === null ? null : `${base}/judge`, wanted);
  const send = async (event: Event) => {
    event.preventDefault();
    setSendError(null);
    try {
      const by = remembered('name') ?? undefined;
      await change('PUT', `/api/jobs/${jobId}/ticket`, { ticket: wanted, by });
      goTo(`/jobs/${jobId}`);
    } catch (problem) {
      setSendError(problem as Error);
    }
  };
  const facts = useMemo(
    () => ({
      otherwise: shop.answer?.values ?? null,
      names: {
        'press.name': namesOf(shop.answer?.values, 'presses'),
        mesh: namesOf(shop.answer?.values, 'meshes'),
        ink: before?.inks.map(({ name }) => name) ?? [],
      },
    }),
    [shop.answer, before],
  );
  const trouble = sendError ?? written.error ?? schemas.error ?? job.error;
  const problems = [...problemsOf(sendError), ...problemsOf(judged.error)];
  const schema = schemas.answer?.ticket as Schema | undefined;
  return (
    <main class="plain wide">
      <h1>{say('ticket.title', { job: shownText(job.answer?.jobName ?? '') })}</h1>
      <Link to={`/jobs/${jobId}`}>{say('ticket.back')}</Link>
      <p>{say('ticket.about')}</p>
      {written.answer?.values === null && <p role="alert">{say('ticket.unreadable')}</p>}
      {trouble !== null && <Trouble error={trouble} />}
      {schema === undefined || ticket === null ? (
        trouble === null && <p role="status">{say('loading')}</p>
      ) : (
        <div class="form-and-changes">
          <form onSubmit={send} noValidate>
            <FormContext.Provider value={facts}>
              <ObjectField schema={schema} path="" value={ticket} problems={problems} onValue={setTicket} />
            </FormContext.Provider>
            <NameField />
            <button type="submit" class="button strong">
              {say('ticket.keep')}
            </button>
          </form>
          {before !== null && <WhatChanges judged={judged} before={before} />}
        </div>
      )}
    </main>
  );
}
