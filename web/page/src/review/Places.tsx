import { useEffect, useRef, useState } from 'preact/hooks';
import type { Finding } from '../../../../src/findings/finding.ts';
import { decimalsFor } from '../../../../src/report/format.ts';
import type { ReportJson } from '../../../../src/report/reportJson.ts';
import { useWords } from '../words/useWords.ts';
import { PlacesMap } from './PlacesMap.tsx';

const rowPx = 44;
const mostRowsSeen = 5;

/** All places of a finding: a map of the film, and a list of which only what is seen exists. */
export function Places(props: {
  readonly finding: Finding;
  readonly report: ReportJson;
  readonly at: number;
  onPlace(place: number): void;
  onStep(by: 1 | -1): void;
}) {
  const { finding, at } = props;
  const { places, placesTotal } = finding;
  const { say, number } = useWords();
  const [scrolled, setScrolled] = useState(0);
  const box = useRef<HTMLDivElement>(null);
  const seenRows = Math.min(mostRowsSeen, places.length);
  useEffect(() => {
    const element = box.current;
    if (element === null) return;
    const top = at * rowPx;
    if (top < element.scrollTop || top + rowPx > element.scrollTop + element.clientHeight)
      element.scrollTop = Math.max(0, top - element.clientHeight / 2);
  }, [at]);
  const first = Math.max(0, Math.floor(scrolled / rowPx) - 2);
  const last = Math.min(places.length, first + seenRows + 5);
  const unit = finding.measured?.unit ?? null;
  const decimals =
    unit === null
      ? 0
      : decimalsFor(
          unit,
          places.slice(0, 20).map(({ value }) => value),
        );
  const film = props.report.films.find(({ id }) => id === places[0].filmId);
  return (
    <div class="places">
      <div class="row">
        <strong>{say('places.at', { place: at + 1, total: places.length })}</strong>
        <button type="button" class="button" aria-label={say('places.previous')} onClick={() => props.onStep(-1)}>
          ‹ <kbd>,</kbd>
        </button>
        <button type="button" class="button" aria-label={say('places.next')} onClick={() => props.onStep(1)}>
          › <kbd>.</kbd>
        </button>
      </div>
      {placesTotal > places.length && (
        <p class="quiet">{say('places.more', { shown: places.length, total: placesTotal })}</p>
      )}
      {film !== undefined && places.length > 1 && (
        <PlacesMap
          film={film}
          places={places}
          at={at}
          onPlace={props.onPlace}
          label={say('places.map', { count: places.length })}
        />
      )}
      <div
        ref={box}
        class="place-box"
        onScroll={(event) => setScrolled(event.currentTarget.scrollTop)}
        style={{ height: `${seenRows * rowPx}px` }}
      >
        <ul style={{ height: `${places.length * rowPx}px` }}>
          {places.slice(first, last).map((place, offset) => {
            const index = first + offset;
            return (
              <li
                key={index}
                aria-setsize={places.length}
                aria-posinset={index + 1}
                style={{ transform: `translateY(${index * rowPx}px)` }}
              >
                <button
                  type="button"
                  aria-current={index === at ? 'true' : undefined}
                  onClick={() => props.onPlace(index)}
                >
                  <span>{index + 1}</span>
                  <span>
                    {number(place.focusXMm ?? place.xMm + place.widthMm / 2, 1)},{' '}
                    {number(place.focusYMm ?? place.yMm + place.heightMm / 2, 1)} mm
                  </span>
                  <span>{unit === 'mm' ? `${number(place.value, decimals)} mm` : ''}</span>
                </button>
              </li>
            );
          })}
        </ul>
      </div>
    </div>
  );
}
