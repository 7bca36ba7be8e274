import type { CheckResult } from '../../../../src/findings/finding.ts';
import type { Digest } from '../../../../src/report/digest.ts';
import type { Entry } from '../../../../src/report/entry.ts';
import { measureStrip, stripOfTightest } from '../../../../src/report/measureStrip.ts';
import type { ReportJson } from '../../../../src/report/reportJson.ts';
import type { RevisionFacts } from '../../../shared/jobs.ts';
import { Drawn } from '../parts/Drawn.tsx';
import { useWords } from '../words/useWords.ts';
import { Decide } from './Decide.tsx';
import { EntryCard } from './EntryCard.tsx';
import { History } from './History.tsx';
import type { AtPlace } from './LightTable.tsx';
import type { Review } from './useReview.ts';

/** What there is to decide, one after the other; and, as plainly, what passed and what was not looked at. */
export function Worklist(props: {
  readonly review: Review;
  readonly revision: RevisionFacts;
  readonly report: ReportJson;
  readonly digest: Digest;
  readonly entries: readonly Entry[];
  readonly at: AtPlace | null;
  onPlace(at: AtPlace): void;
  onStep(by: 1 | -1): void;
  onStepPlace(by: 1 | -1): void;
  onClose(): void;
}) {
  const { digest, entries, at, report } = props;
  const { say } = useWords();
  let index = -1;
  const groups = [
    { heading: say('worklist.stops'), groups: digest.stops },
    { heading: say('worklist.lookFirst'), groups: digest.lookFirst },
  ];
  return (
    <aside class="worklist" id="worklist" aria-label={say('worklist.title')}>
      <div class="worklist-head">
        <h2>
          {entries.length === 0
            ? say('worklist.none')
            : at === null
              ? say('worklist.count', { count: entries.length })
              : say('worklist.at', { place: at.entry + 1, total: entries.length })}
        </h2>
        <button type="button" class="button" onClick={() => props.onStep(-1)} disabled={entries.length === 0}>
          {say('worklist.previous')} <kbd>p</kbd>
        </button>
        <button type="button" class="button" onClick={() => props.onStep(1)} disabled={entries.length === 0}>
          {say('worklist.next')} <kbd>n</kbd>
        </button>
        <button type="button" class="button quiet" aria-label={say('close')} onClick={props.onClose}>
          ×
        </button>
      </div>
      <div class="worklist-body">
        <Decide review={props.review} revision={props.revision} />
        {groups.map((part) =>
          part.groups.length === 0 ? null : (
            <section key={part.heading}>
              <h3>{part.heading}</h3>
              {part.groups.map((group) => (
                <div key={group.heading} class="group">
                  <h4>{group.heading}</h4>
                  <ul class="entries">
                    {group.entries.map((entry) => {
                      index += 1;
                      const own = index;
                      return (
                        <EntryCard
                          key={entry.anchor}
                          entry={entry}
                          report={report}
                          revision={props.revision}
                          review={props.review}
                          place={at?.entry === own ? at.place : null}
                          onPlace={(place) => props.onPlace({ entry: own, place })}
                          onStepPlace={props.onStepPlace}
                        />
                      );
                    })}
                  </ul>
                </div>
              ))}
            </section>
          ),
        )}
        {digest.openJoins.length > 0 && (
          <section>
            <h3>{say('worklist.joins')}</h3>
            <ul class="plain-list">
              {digest.openJoins.map(({ message }) => (
                <li key={message}>{message}</li>
              ))}
            </ul>
          </section>
        )}
        <section>
          <h3>{say('worklist.fine', { count: digest.fine.length })}</h3>
          <ul class="checks">
            {digest.fine.map((check) => (
              <FineCheck key={check.id} check={check} />
            ))}
          </ul>
        </section>
        <section>
          <h3>{say('worklist.notChecked')}</h3>
          <ul class="plain-list">
            {[...digest.couldNotRun, ...digest.notApplicable].map((check) => (
              <li key={check.id}>
                {check.title} <span class="quiet">{check.why}</span>
              </li>
            ))}
            {report.notLookedAt.map(({ title, why }) => (
              <li key={title}>
                {title} <span class="quiet">{why}</span>
              </li>
            ))}
          </ul>
        </section>
        {props.review.job.answer !== null && <History job={props.review.job.answer} />}
      </div>
    </aside>
  );
}

function FineCheck({ check }: { readonly check: CheckResult }) {
  const reading = stripOfTightest(check);
  return (
    <li>
      <span>{check.title}</span>
      {reading !== null && <Drawn drawing={measureStrip(reading)} className="strip" />}
    </li>
  );
}
