import type { RevisionFacts } from '../../../shared/jobs.ts';
import type { NoteFacts } from '../../../shared/notes.ts';
import { Link } from '../parts/Link.tsx';
import { useAnswer } from '../server/useAnswer.ts';
import { useWords } from '../words/useWords.ts';

/** The note to the customer as text, and the way to where it is changed and sent. Nothing where there is no report. */
export function NoteToCopy({ revision }: { readonly revision: RevisionFacts }) {
  const { say } = useWords();
  const base = `${revision.jobId}/${revision.revision}`;
  const hasReport = revision.artifacts.some(({ name }) => name === 'report.json');
  const { answer } = useAnswer<NoteFacts>(hasReport ? `/api/jobs/${base}/note` : null);
  if (!hasReport) return null;
  return (
    <>
      <label>
        {say('decide.note')}
        <textarea rows={8} readOnly lang={answer?.note.language} value={answer?.text ?? ''} />
      </label>
      <Link to={`/jobs/${base}/papers`}>{say('decide.openNote')}</Link>
    </>
  );
}
