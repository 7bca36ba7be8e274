import { useEffect, useState } from 'preact/hooks';
import type { Schemas, ValueProblem } from '../../../shared/shop.ts';
import { Link } from '../parts/Link.tsx';
import { NameField } from '../parts/NameField.tsx';
import { Trouble } from '../parts/Trouble.tsx';
import { useReview } from '../review/useReview.ts';
import { goTo } from '../route.ts';
import { change } from '../server/ask.ts';
import { useAnswer } from '../server/useAnswer.ts';
import { remembered } from '../settings.ts';
import { useWords } from '../words/useWords.ts';
import { problemsOf } from './problemsOf.ts';
import { ObjectField } from './SchemaField.tsx';
import { type Schema, withoutEmpty } from './schema.ts';
import { ticketOf } from './ticketOf.ts';

/** The ticket of a job; a changed one is judged at once. */
export function TicketView({ jobId }: { readonly jobId: number }) {
  const { say } = useWords();
  const review = useReview(jobId, null);
  const schemas = useAnswer<Schemas>('/api/ticket-schema');
  const [ticket, setTicket] = useState<unknown>(null);
  const [problems, setProblems] = useState<readonly ValueProblem[]>([]);
  const [error, setError] = useState<Error | null>(null);
  const report = review.report.answer;
  useEffect(() => {
    if (report !== null && ticket === null) setTicket(ticketOf(report));
  }, [report]);
  const send = async (event: Event) => {
    event.preventDefault();
    try {
      await change('PUT', `/api/jobs/${jobId}/ticket`, {
        ticket: withoutEmpty(ticket) ?? {},
        by: remembered('name') ?? undefined,
      });
      goTo(`/jobs/${jobId}`);
    } catch (problem) {
      setProblems(problemsOf(problem));
      setError(problem as Error);
    }
  };
  const trouble = error ?? schemas.error ?? review.job.error;
  const schema = schemas.answer?.ticket as Schema | undefined;
  return (
    <main class="plain">
      <h1>{say('ticket.title', { job: review.job.answer?.jobName ?? '' })}</h1>
      <Link to={`/jobs/${jobId}`}>{say('ticket.back')}</Link>
      <p>{say('ticket.about')}</p>
      {trouble !== null && <Trouble error={trouble} />}
      {schema === undefined ? (
        <p role="status">{say('loading')}</p>
      ) : (
        <form onSubmit={send} noValidate>
          <ObjectField schema={schema} name="" path="" value={ticket ?? {}} problems={problems} onValue={setTicket} />
          <NameField />
          <button type="submit" class="button strong">
            {say('ticket.judge')}
          </button>
        </form>
      )}
    </main>
  );
}
