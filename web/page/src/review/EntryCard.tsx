import { useEffect, useRef, useState } from 'preact/hooks';
import { limitOriginWords } from '../../../../src/report/digest.ts';
import type { Entry } from '../../../../src/report/entry.ts';
import { measureStrip, stripReadingOf } from '../../../../src/report/measureStrip.ts';
import type { ReportJson } from '../../../../src/report/reportJson.ts';
import { shownText } from '../../../../src/report/words.ts';
import type { DecisionFacts, FindingDecisionKind, RevisionFacts } from '../../../shared/jobs.ts';
import { Drawn } from '../parts/Drawn.tsx';
import { useWords } from '../words/useWords.ts';
import { DecisionDialog } from './DecisionDialog.tsx';
import { Places } from './Places.tsx';
import { findingKeysOf, settledBy } from './standing.ts';
import type { Review } from './useReview.ts';

/** One thing to look at: what it is, by how much, where the limit is from, why, and what to do. */
export function EntryCard(props: {
  readonly entry: Entry;
  readonly report: ReportJson;
  readonly revision: RevisionFacts;
  readonly review: Review;
  /** The place looked at; null when another entry is. */
  readonly place: number | null;
  onPlace(place: number): void;
  onStepPlace(by: 1 | -1): void;
}) {
  const { entry, report, place } = props;
  const { say } = useWords();
  const { finding } = entry;
  const isCurrent = place !== null;
  const element = useRef<HTMLLIElement>(null);
  const [asking, setAsking] = useState<'accept' | 'ourselves' | null>(null);
  useEffect(() => {
    if (isCurrent) element.current?.scrollIntoView({ block: 'nearest' });
  }, [isCurrent]);
  const reading = stripReadingOf(entry);
  const settled = settledBy(entry, props.revision);
  return (
    <li ref={element} class={isCurrent ? 'entry current' : 'entry'}>
      <button type="button" class="entry-head" aria-expanded={isCurrent} onClick={() => props.onPlace(0)}>
        <span class="entry-title">{entry.title}</span>
        <span class="quiet">
          {finding !== null && finding.inkNames.length > 0 && <span>{shownText(finding.inkNames.join(' / '))} </span>}
          {finding !== null && finding.placesTotal > 0 && (
            <span>
              {finding.inkNames.length > 0 && '· '}
              {say('places', { count: finding.placesTotal })}{' '}
            </span>
          )}
          {settled.length > 0 && <strong>{say(`settled.${settled[0].kind as FindingDecisionKind}`)}</strong>}
        </span>
      </button>
      {isCurrent && (
        <div class="entry-body">
          {reading !== null && <Drawn drawing={measureStrip(reading)} className="strip" />}
          {finding?.limit != null && (
            <p>
              <strong>
                {say('limit.from', { origin: limitOriginWords(report, finding.limit, finding.inkNames) })}
              </strong>{' '}
              {finding.limit.rule} <span class="quiet">({finding.limit.source})</span>
            </p>
          )}
          <p>{entry.check.asks}</p>
          {(entry.check.why ?? '') !== '' && <p>{entry.check.why}</p>}
          {finding !== null && finding.details.length > 0 && <p>{shownText(finding.details.join('; '))}</p>}
          {finding !== null && (
            <dl class="advice">
              <dt>{say('advice.printer')}</dt>
              <dd>{finding.advice.printer}</dd>
              <dt>{say('advice.customer')}</dt>
              <dd>{finding.advice.customer}</dd>
            </dl>
          )}
          {finding !== null && finding.places.length > 0 && (
            <Places finding={finding} report={report} at={place} onPlace={props.onPlace} onStep={props.onStepPlace} />
          )}
          {settled.length > 0 ? (
            <Settled decisions={settled} title={entry.title} review={props.review} revision={props.revision} />
          ) : (
            finding !== null && (
              <div class="row">
                <button type="button" class="button" onClick={() => setAsking('accept')}>
                  {say('decide.accept')}
                </button>
                <button type="button" class="button" onClick={() => setAsking('ourselves')}>
                  {say('decide.ourselves')}
                </button>
              </div>
            )
          )}
          {asking !== null && (
            <DecisionDialog
              kind={asking}
              findings={findingKeysOf(entry)}
              revision={props.revision}
              onDone={(isDecided) => {
                setAsking(null);
                if (isDecided) props.review.job.again();
              }}
            />
          )}
        </div>
      )}
    </li>
  );
}

function Settled(props: {
  readonly decisions: readonly DecisionFacts[];
  readonly title: string;
  readonly review: Review;
  readonly revision: RevisionFacts;
}) {
  const { say, moment } = useWords();
  const [isUndoing, setUndoing] = useState(false);
  const [{ by, at, reason, kind }] = props.decisions;
  const undoWords = say(kind === 'acceptFinding' ? 'undo.acceptFinding' : 'undo.doOurselves');
  return (
    <div class="accepted">
      <p>
        <strong>{say(`settled.${kind as FindingDecisionKind}By`, { who: by, when: moment(at) })}</strong> {reason}
      </p>
      <button type="button" class="button" onClick={() => setUndoing(true)}>
        {undoWords}
      </button>
      {isUndoing && (
        <DecisionDialog
          kind="undo"
          decisionIds={props.decisions.map(({ id }) => id)}
          about={props.title}
          undoWords={undoWords}
          revision={props.revision}
          onDone={(isDecided) => {
            setUndoing(false);
            if (isDecided) props.review.job.again();
          }}
        />
      )}
    </div>
  );
}
