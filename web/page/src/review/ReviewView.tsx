import { useLayoutEffect, useState } from 'preact/hooks';
import { shownText } from '../../../../src/report/words.ts';
import { Link } from '../parts/Link.tsx';
import { Trouble } from '../parts/Trouble.tsx';
import { VerdictSign } from '../parts/VerdictSign.tsx';
import { useWords } from '../words/useWords.ts';
import { hideFirstPicture, showFirstPicture } from './firstPicture.ts';
import { LightTable } from './LightTable.tsx';
import { LinksDialog } from './LinksDialog.tsx';
import { NoPlates } from './NoPlates.tsx';
import { useReview } from './useReview.ts';

/** A job on the light table. */
export function ReviewView(props: { readonly jobId: number; readonly revision: number | null }) {
  const { say } = useWords();
  const review = useReview(props.jobId, props.revision);
  const [hasLinksOpen, setLinksOpen] = useState(false);
  const [isWorklistOpen, setWorklistOpen] = useState(() => innerWidth >= 1000);
  const { job, revision, report, plates } = review;
  const error = job.error ?? report.error ?? plates.error;
  const hasPicture = error === null && revision?.artifacts.some(({ name }) => name === 'composite.png') === true;
  useLayoutEffect(() => {
    // Before anything is known of the job the server may have put its picture there.
    if (revision === null) return;
    if (hasPicture) showFirstPicture(props.jobId, props.revision);
    else hideFirstPicture();
  }, [props.jobId, props.revision, revision === null, hasPicture]);
  useLayoutEffect(() => hideFirstPicture, []);
  if (revision === null || job.answer === null)
    return (
      <main class="plain">
        <h1 class="unseen">{say('review.title')}</h1>
        {job.error !== null ? <Trouble error={job.error} /> : <p role="status">{say('loading')}</p>}
      </main>
    );
  const hasTable = plates.answer !== null && plates.answer.plates.length > 0 && report.answer !== null;
  return (
    <main class="review">
      <header class="review-head">
        <h1>{shownText(revision.jobName)}</h1>
        {revision.verdict !== null && <VerdictSign verdict={revision.verdict} />}
        <RevisionChoice
          revisions={job.answer.revisions.map((one) => one.revision)}
          jobId={props.jobId}
          at={revision.revision}
        />
        {job.answer.revisions.length > 1 && (
          <Link to={comparePath(job.answer.revisions, props.jobId, revision.revision)} className="button quiet">
            {say('compare.open')}
          </Link>
        )}
        <Link to={`/jobs/${props.jobId}/ticket`} className="button quiet">
          {say('ticket.open')}
        </Link>
        {report.answer !== null && (
          <Link to={`/jobs/${props.jobId}/${revision.revision}/papers`} className="button quiet">
            {say('papers.open')}
          </Link>
        )}
        <a
          class="button quiet"
          href={`/api/jobs/${props.jobId}/${revision.revision}/report.pdf`}
          target="_blank"
          rel="noreferrer"
        >
          {say('review.pdf')}
        </a>
        <a class="button quiet" href={`/api/jobs/${props.jobId}/export`} download>
          {say('review.export')}
        </a>
        <button type="button" class="button quiet" onClick={() => setLinksOpen(true)}>
          {say('links.open')}
        </button>
        <button
          type="button"
          class="button"
          aria-expanded={isWorklistOpen}
          aria-controls="worklist"
          onClick={() => setWorklistOpen(!isWorklistOpen)}
        >
          {say('worklist.title')}
        </button>
      </header>
      {hasLinksOpen && <LinksDialog jobId={props.jobId} onDone={() => setLinksOpen(false)} />}
      {error !== null && <Trouble error={error} />}
      {hasTable ? (
        <LightTable
          key={review.tilesUrl}
          review={review}
          revision={revision}
          report={report.answer!}
          list={plates.answer!}
          isWorklistOpen={isWorklistOpen}
          onWorklist={setWorklistOpen}
        />
      ) : (
        <NoPlates review={review} revision={revision} />
      )}
    </main>
  );
}

/** The revision shown beside the one before it, or the first beside the second. */
function comparePath(revisions: readonly { readonly revision: number }[], jobId: number, at: number): string {
  const numbers = revisions.map(({ revision }) => revision).sort((a, b) => a - b);
  const after = Math.max(1, numbers.indexOf(at));
  return `/jobs/${jobId}/compare/${numbers[after - 1]}/${numbers[after]}`;
}

function RevisionChoice(props: { readonly revisions: readonly number[]; readonly jobId: number; readonly at: number }) {
  const { say } = useWords();
  if (props.revisions.length < 2) return <span class="quiet">{say('review.revision', { number: props.at })}</span>;
  return (
    <nav class="revisions" aria-label={say('review.revisions')}>
      {[...props.revisions].reverse().map((revision) => (
        <Link
          key={revision}
          to={`/jobs/${props.jobId}/${revision}`}
          isHere={revision === props.at}
          className="button quiet"
        >
          {say('review.revision', { number: revision })}
        </Link>
      ))}
    </nav>
  );
}
