import type { JobFacts } from '../../../shared/jobs.ts';
import { en, type MessageKey } from '../words/en.ts';
import { useWords } from '../words/useWords.ts';

const known = new Set<string>(Object.keys(en).flatMap((key) => (key.startsWith('history.') ? [key.slice(8)] : [])));

/** Who did what when. */
export function History({ job }: { readonly job: JobFacts }) {
  const { say, moment } = useWords();
  return (
    <details class="history">
      <summary>{say('history')}</summary>
      <ol>
        {job.history.map((line, index) => (
          <li key={index}>
            <span class="quiet">{moment(line.at)}</span>{' '}
            {known.has(line.what) ? say(`history.${line.what}` as MessageKey) : line.what}
            {line.revision !== null && <span> · {say('review.revision', { number: line.revision })}</span>} · {line.who}
            {line.mail !== undefined && (
              <span class="quiet">
                {' '}
                {say('mails.to', { to: line.mail.to })} {say('mails.id', { id: line.mail.messageId })}
              </span>
            )}
          </li>
        ))}
      </ol>
    </details>
  );
}
