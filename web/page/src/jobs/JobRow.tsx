import { useState } from 'preact/hooks';
import { shownText } from '../../../../src/report/words.ts';
import type { JobLine, ProgressEvent } from '../../../shared/jobs.ts';
import { Link } from '../parts/Link.tsx';
import { VerdictSign } from '../parts/VerdictSign.tsx';
import type { MessageKey } from '../words/en.ts';
import { useWords } from '../words/useWords.ts';

const stages = new Set(['reading', 'drawing', 'measuring', 'comparing', 'judging', 'picturing', 'writing']);

export function JobRow(props: {
  readonly job: JobLine;
  readonly now: number;
  readonly progress: ProgressEvent | null;
}) {
  const { job, progress } = props;
  const { say, age, moment } = useWords();
  const [hasPicture, setHasPicture] = useState(true);
  return (
    <li class="job">
      <Link to={`/jobs/${job.jobId}`} className="job-link">
        <span class="job-picture">
          {job.state === 'checked' && hasPicture && (
            <img
              src={`/api/jobs/${job.jobId}/${job.revision}/files/composite.png?checked=${job.finishedAt ?? 0}`}
              alt=""
              loading="lazy"
              onError={() => setHasPicture(false)}
            />
          )}
        </span>
        <span class="job-words">
          <strong class="job-name">{shownText(job.jobName)}</strong>
          <span class="quiet">
            {[
              job.customer === null ? '' : shownText(job.customer),
              job.revision > 1 ? say('review.revision', { number: job.revision }) : '',
              shownText(job.inkNames.join(', ')),
            ]
              .filter(Boolean)
              .join(' · ')}
          </span>
          {job.reason !== null && job.state !== 'checked' && <span>{shownText(job.reason)}</span>}
        </span>
        <span class="job-state">
          {job.state === 'working' ? (
            <span>
              {progress !== null && stages.has(progress.stage)
                ? say(`stage.${progress.stage}` as MessageKey)
                : say('state.working')}
              {progress !== null && progress.total > 0 && (
                <progress max={progress.total} value={progress.done} aria-label={say('state.working')} />
              )}
            </span>
          ) : job.verdict !== null ? (
            <VerdictSign verdict={job.verdict} />
          ) : (
            <span>{say(`state.${job.state}`)}</span>
          )}
          {job.standing !== null && (
            <strong>{say(job.standing === 'released' ? 'standing.released' : 'standing.onHold')}</strong>
          )}
          {job.customerAnswer !== null && <span>{say(`customer.${job.customerAnswer}`)}</span>}
        </span>
        <time class="quiet job-age" dateTime={new Date(job.arrivedAt).toISOString()} title={moment(job.arrivedAt)}>
          {age(job.arrivedAt, props.now)}
        </time>
      </Link>
    </li>
  );
}
