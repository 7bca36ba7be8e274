import { useEffect, useMemo, useState } from 'preact/hooks';
import type { ReportJson } from '../../../../src/report/reportJson.ts';
import { shownText } from '../../../../src/report/words.ts';
import type { Comparison } from '../../../shared/compare.ts';
import type { PlateList } from '../../../shared/plates.ts';
import { Link } from '../parts/Link.tsx';
import { Trouble } from '../parts/Trouble.tsx';
import { firstRack } from '../review/firstRack.ts';
import { type Review, useReview } from '../review/useReview.ts';
import { useAnswer } from '../server/useAnswer.ts';
import { filmOf } from '../table/drawTable.ts';
import { flyTo, stopFlight } from '../table/flyTo.ts';
import { differenceLook, lookOf } from '../table/looks.ts';
import { aimedAt, fitted } from '../table/viewport.ts';
import { useWords } from '../words/useWords.ts';
import { type AtChange, Changes, changesOf } from './Changes.tsx';
import { ComparedFilm } from './ComparedFilm.tsx';
import { useLinkedTables } from './linkedTables.ts';

const manners = ['beside', 'inTurn', 'changed'] as const;
type Manner = (typeof manners)[number];
/** Slower than anything that flickers at people. */
const turnMs = 900;

/** Two revisions of a job: side by side, one in place of the other, or what changed alone. */
export function CompareView(props: { readonly jobId: number; readonly before: number; readonly after: number }) {
  const { say } = useWords();
  const before = useReview(props.jobId, props.before);
  const after = useReview(props.jobId, props.after);
  const base = `/api/jobs/${props.jobId}/compare/${props.before}/${props.after}`;
  const comparison = useAnswer<Comparison>(base);
  const [manner, setManner] = useState<Manner>('beside');
  const [isPlaying, setPlaying] = useState(() => !matchMedia('(prefers-reduced-motion: reduce)').matches);
  const [isAfter, setAfter] = useState(false);
  const [at, setAt] = useState<AtChange | null>(null);
  const linked = useLinkedTables('before');
  useEffect(() => {
    if (manner !== 'inTurn' || !isPlaying) return;
    const timer = setInterval(() => setAfter((was) => !was), turnMs);
    return () => clearInterval(timer);
  }, [manner, isPlaying]);
  useEffect(() => {
    linked.lead(manner === 'changed' ? 'changed' : 'before');
  }, [manner, linked]);
  useEffect(() => stopFlight, []);

  const facts = comparison.answer;
  const changes = useMemo(() => changesOf(facts), [facts]);
  const places = useMemo(() => changes.map(({ place }) => place), [changes]);
  const current = at === null ? null : (changes[at]?.place ?? null);
  const lookAt = (index: AtChange) => {
    setAt(index);
    const table = linked.leading();
    const list = facts?.difference ?? null;
    if (table !== null && list !== null) flyTo(table, aimedAt(table.view, filmOf(list), changes[index].place));
  };
  const whole = () => {
    const table = linked.leading();
    if (table === null || after.plates.answer === null) return;
    flyTo(table, fitted(filmOf(after.plates.answer), table.view.widthPx, table.view.heightPx));
  };
  const tilesUrl = `${base}/tiles/{place}?${facts?.difference?.version ?? ''}`;
  const error = comparison.error ?? before.job.error;
  const caption = (revision: number) => say('review.revision', { number: revision });
  const shared = { places, current, linked };
  const isWaiting = facts === null && error === null;
  return (
    <main class="review">
      <header class="review-head">
        <h1>{say('compare.title', { job: shownText(after.job.answer?.jobName ?? '') })}</h1>
        <span>
          {caption(props.before)} → {caption(props.after)}
        </span>
        <Link to={`/jobs/${props.jobId}/${props.after}`} className="button quiet">
          {say('ticket.back')}
        </Link>
      </header>
      {error !== null && <Trouble error={error} />}
      <div class="light-table with-worklist">
        <div class="over-table">
          <fieldset class="ways">
            <legend class="unseen">{say('compare.manner')}</legend>
            {manners.map((one) => (
              <label key={one} class="way">
                <input type="radio" name="manner" checked={one === manner} onChange={() => setManner(one)} />
                <span>{say(`compare.${one}`)}</span>
              </label>
            ))}
          </fieldset>
          <div class="tools">
            {manner === 'inTurn' && (
              <>
                <button type="button" class="button" aria-pressed={isPlaying} onClick={() => setPlaying(!isPlaying)}>
                  {say('compare.play')}
                </button>
                <button
                  type="button"
                  class="button"
                  onClick={() => {
                    setPlaying(false);
                    setAfter(!isAfter);
                  }}
                >
                  {say('compare.other')}
                </button>
              </>
            )}
            <button type="button" class="button" onClick={whole}>
              {say('zoom.fit')}
            </button>
          </div>
        </div>
        <div class={`compared-films ${manner}`}>
          {manner === 'changed'
            ? facts?.difference != null && (
                <ComparedFilm
                  {...shared}
                  name="changed"
                  caption={say('compare.changed')}
                  list={facts.difference}
                  tilesUrl={tilesUrl}
                  look={differenceLook}
                  isHidden={false}
                />
              )
            : ([before, after] as const).map((review, index) => (
                <RevisionFilm
                  key={index}
                  {...shared}
                  name={index === 0 ? 'before' : 'after'}
                  review={review}
                  caption={caption(index === 0 ? props.before : props.after)}
                  isHidden={manner === 'inTurn' && isAfter !== (index === 1)}
                />
              ))}
        </div>
        {manner === 'changed' && (
          <ul class="legend">
            {(['now', 'gone', 'added'] as const).map((part) => (
              <li key={part}>
                <span class={`swatch ${part}`} /> {say(`compare.${part}`)}
              </li>
            ))}
          </ul>
        )}
        {isWaiting && (
          <p class="note" role="status">
            {say('compare.working')}
          </p>
        )}
        {facts !== null && <Changes comparison={facts} changes={changes} at={at} onAt={lookAt} />}
      </div>
    </main>
  );
}

type Shared = Pick<
  Parameters<typeof ComparedFilm>[0],
  'places' | 'current' | 'linked' | 'name' | 'caption' | 'isHidden'
>;

function RevisionFilm({ review, ...shared }: Shared & { readonly review: Review }) {
  const list = review.plates.answer;
  const report = review.report.answer;
  if (list === null || list.plates.length === 0 || report === null) return null;
  return <OnShirt {...shared} list={list} report={report} tilesUrl={review.tilesUrl} />;
}

function OnShirt({
  report,
  ...film
}: Shared & { readonly list: PlateList; readonly report: ReportJson; readonly tilesUrl: string }) {
  const { list } = film;
  const look = useMemo(
    () => lookOf('shirt', list, firstRack(report, list), null, report.ticket.garmentHex),
    [list, report],
  );
  return <ComparedFilm {...film} look={look} />;
}
