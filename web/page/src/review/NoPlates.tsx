import type { RevisionFacts } from '../../../shared/jobs.ts';
import { useWords } from '../words/useWords.ts';
import { Decide } from './Decide.tsx';
import { History } from './History.tsx';
import type { Review } from './useReview.ts';

/** A revision without plates to look at: still waiting, could not be read, or its plates were not kept. */
export function NoPlates({ review, revision }: { readonly review: Review; readonly revision: RevisionFacts }) {
  const { say } = useWords();
  const isBusy = revision.state === 'waiting' || revision.state === 'working' || revision.state === 'setAside';
  const isLoading =
    revision.artifacts.some(({ name }) => name === 'plates/plates.json') && review.plates.error === null;
  return (
    <div class="plain">
      <p role="status">
        {isLoading ? say('loading') : isBusy ? say(`state.${revision.state}`) : say('review.noPlates')}
      </p>
      {revision.reason !== null && <p>{revision.reason}</p>}
      <Decide review={review} revision={revision} />
      {review.job.answer !== null && <History job={review.job.answer} />}
    </div>
  );
}
