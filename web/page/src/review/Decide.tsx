import { useState } from 'preact/hooks';
import type { RevisionDecisionKind, RevisionFacts } from '../../../shared/jobs.ts';
import { useWords } from '../words/useWords.ts';
import { CustomerAnswer } from './CustomerAnswer.tsx';
import { DecisionDialog, type DecisionKind } from './DecisionDialog.tsx';
import { standingDecisionOf } from './standing.ts';
import type { Review } from './useReview.ts';

/** How the revision stands, and the few big decisions. */
export function Decide(props: { readonly review: Review; readonly revision: RevisionFacts }) {
  const { revision } = props;
  const { say, moment } = useWords();
  const [asking, setAsking] = useState<DecisionKind | null>(null);
  const standing = standingDecisionOf(revision);
  return (
    <section class="decide" aria-label={say('decide')}>
      <p class="standing" role="status">
        {standing === null ? (
          say('standing.open')
        ) : (
          <>
            <strong>{say(`standing.${standing.kind as RevisionDecisionKind}`)}</strong>{' '}
            {say('standing.by', { who: standing.by, when: moment(standing.at) })} {standing.reason}
          </>
        )}
      </p>
      <CustomerAnswer revision={revision} />
      {!revision.isLatest && <p class="quiet">{say('standing.notLatest')}</p>}
      <div class="row">
        {revision.standing !== 'released' && (
          <button type="button" class="button strong" onClick={() => setAsking('release')}>
            {say('decide.release')}
          </button>
        )}
        {revision.standing !== 'onHold' && (
          <button type="button" class="button" onClick={() => setAsking('hold')}>
            {say('decide.hold')}
          </button>
        )}
        <button type="button" class="button" onClick={() => setAsking('ask')}>
          {say('decide.ask')}
        </button>
        {standing !== null && (
          <button type="button" class="button" onClick={() => setAsking('undo')}>
            {say(`undo.${standing.kind as RevisionDecisionKind}`)}
          </button>
        )}
      </div>
      {asking !== null && (
        <DecisionDialog
          kind={asking}
          revision={revision}
          decisionIds={standing === null ? [] : [standing.id]}
          undoWords={standing === null ? undefined : say(`undo.${standing.kind as RevisionDecisionKind}`)}
          onDone={(isDecided) => {
            setAsking(null);
            if (isDecided) props.review.job.again();
          }}
        />
      )}
    </section>
  );
}
