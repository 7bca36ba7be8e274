import { useMemo, useRef, useState } from 'preact/hooks';
import { digestOf } from '../../../../src/report/digest.ts';
import type { ReportJson } from '../../../../src/report/reportJson.ts';
import { shownText } from '../../../../src/report/words.ts';
import type { RevisionFacts } from '../../../shared/jobs.ts';
import type { PlateList } from '../../../shared/plates.ts';
import { lookOf, type RackFilm, type Way } from '../table/looks.ts';
import { meshOnFilm } from '../table/threads.ts';
import { useWords } from '../words/useWords.ts';
import { entriesOf, finePlacesOf } from './entries.ts';
import { Film, type FilmControl } from './Film.tsx';
import { firstRack } from './firstRack.ts';
import { Rack } from './Rack.tsx';
import type { Review } from './useReview.ts';
import { useReviewKeys } from './useReviewKeys.ts';
import { WayChoice } from './WayChoice.tsx';
import { Worklist } from './Worklist.tsx';

export interface AtPlace {
  readonly entry: number;
  readonly place: number;
}

/** The table itself: film, rack, ways of seeing, worklist. */
export function LightTable(props: {
  readonly review: Review;
  readonly revision: RevisionFacts;
  readonly report: ReportJson;
  readonly list: PlateList;
  readonly isWorklistOpen: boolean;
  readonly onWorklist: (isOpen: boolean) => void;
}) {
  const { report, list, revision } = props;
  const { say } = useWords();
  const [way, setWay] = useState<Way>('shirt');
  const [rack, setRack] = useState<readonly RackFilm[]>(() => firstRack(report, list));
  const [alone, setAlone] = useState<number | null>(null);
  const [hasLoupe, setLoupe] = useState(false);
  const [hasRuler, setRuler] = useState(false);
  const [at, setAt] = useState<AtPlace | null>(null);
  const control = useRef<FilmControl | null>(null);

  const digest = useMemo(() => digestOf(report), [report]);
  const entries = useMemo(() => entriesOf(digest), [digest]);
  const finePlaces = useMemo(() => finePlacesOf(report), [report]);
  const look = useMemo(
    () => lookOf(way, list, rack, alone, report.ticket.garmentHex),
    [way, list, rack, alone, report],
  );
  const entry = at === null ? null : entries[at.entry];
  const places = entry?.finding?.places ?? [];
  const current = at === null ? null : (places[at.place] ?? null);
  const topFilm = alone ?? [...rack].reverse().find(({ isOn }) => isOn)?.plate ?? null;
  const shownInk = entry?.finding?.inkNames[0] ?? (topFilm === null ? '' : list.plates[topFilm].inkName);
  const mesh = way === 'threads' ? meshOnFilm(report, shownInk) : null;

  const lookAt = (next: AtPlace) => {
    setAt(next);
    const place = entries[next.entry].finding?.places[next.place];
    if (place !== undefined) control.current?.fly(place);
    if (!props.isWorklistOpen) props.onWorklist(true);
  };
  const step = (by: 1 | -1) => {
    if (entries.length === 0) return;
    const next = at === null ? (by === 1 ? 0 : entries.length - 1) : (at.entry + by + entries.length) % entries.length;
    lookAt({ entry: next, place: 0 });
  };
  const stepPlace = (by: 1 | -1) => {
    if (at === null || places.length === 0) return;
    lookAt({ entry: at.entry, place: (at.place + by + places.length) % places.length });
  };
  useReviewKeys({
    n: () => step(1),
    p: () => step(-1),
    '.': () => stepPlace(1),
    ',': () => stepPlace(-1),
    l: () => setLoupe(!hasLoupe),
    r: () => setRuler(!hasRuler),
  });

  return (
    <div class={props.isWorklistOpen ? 'light-table with-worklist' : 'light-table'}>
      <div class="over-table">
        <WayChoice way={way} onWay={setWay} />
        <div class="tools">
          <button type="button" class="button" aria-pressed={hasLoupe} onClick={() => setLoupe(!hasLoupe)}>
            {say('loupe')}
          </button>
          <button type="button" class="button" aria-pressed={hasRuler} onClick={() => setRuler(!hasRuler)}>
            {say('ruler')}
          </button>
          <button type="button" class="button" aria-label={say('zoom.in')} onClick={() => control.current?.zoomBy(2)}>
            +
          </button>
          <button
            type="button"
            class="button"
            aria-label={say('zoom.out')}
            onClick={() => control.current?.zoomBy(0.5)}
          >
            −
          </button>
          <button type="button" class="button" onClick={() => control.current?.fit()}>
            {say('zoom.fit')}
          </button>
          <button type="button" class="button" onClick={() => control.current?.trueSize()}>
            1:1
          </button>
        </div>
      </div>
      <Film
        list={list}
        tilesUrl={props.review.tilesUrl}
        base={`/api/jobs/${revision.jobId}/${revision.revision}`}
        look={look}
        rack={rack}
        places={way === 'fine' && entry === null ? finePlaces : places}
        current={current}
        mesh={mesh}
        meshNote={
          way !== 'threads'
            ? null
            : mesh === null
              ? say('threads.none', { ink: shownText(shownInk) })
              : say('threads.closer')
        }
        wayNote={way === 'light' && list.plates.every(({ depth }) => depth === 1) ? say('way.lightNone') : null}
        hasLoupe={hasLoupe}
        hasRuler={hasRuler}
        control={control}
      />
      <Rack
        list={list}
        report={report}
        base={`/api/jobs/${revision.jobId}/${revision.revision}`}
        rack={rack}
        alone={alone}
        onRack={setRack}
        onAlone={setAlone}
      />
      {props.isWorklistOpen && (
        <Worklist
          review={props.review}
          revision={revision}
          report={report}
          digest={digest}
          entries={entries}
          at={at}
          onPlace={lookAt}
          onStep={step}
          onStepPlace={stepPlace}
          onClose={() => props.onWorklist(false)}
        />
      )}
    </div>
  );
}
