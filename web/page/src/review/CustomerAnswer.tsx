import type { RevisionFacts } from '../../../shared/jobs.ts';
import { useWords } from '../words/useWords.ts';

/** What the customer answered last by a link; nothing where nobody did. */
export function CustomerAnswer({ revision }: { readonly revision: RevisionFacts }) {
  const { say, moment } = useWords();
  const last = revision.answers.at(-1);
  if (last === undefined) return null;
  return (
    <p class="standing customer-answer">
      <strong>{say(`customer.${last.kind}`)}</strong> {say('standing.by', { who: last.name, when: moment(last.at) })}{' '}
      {last.remark}
      {revision.answers.length > 1 && <span class="quiet"> {say('customer.before')}</span>}
    </p>
  );
}
