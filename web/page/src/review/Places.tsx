import type { Finding } from '../../../../src/findings/finding.ts';
import { decimalsFor } from '../../../../src/report/format.ts';
import type { ReportJson } from '../../../../src/report/reportJson.ts';
import { Rows } from '../parts/Rows.tsx';
import { useWords } from '../words/useWords.ts';
import { PlacesMap } from './PlacesMap.tsx';

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
      <Rows
        count={places.length}
        mostSeen={mostRowsSeen}
        at={at}
        row={(index) => {
          const place = places[index];
          return (
            <button type="button" aria-current={index === at ? 'true' : undefined} onClick={() => props.onPlace(index)}>
              <span>{index + 1}</span>
              <span>
                {number(place.focusXMm ?? place.xMm + place.widthMm / 2, 1)},{' '}
                {number(place.focusYMm ?? place.yMm + place.heightMm / 2, 1)} mm
              </span>
              <span>{unit === 'mm' ? `${number(place.value, decimals)} mm` : ''}</span>
            </button>
          );
        }}
      />
    </div>
  );
}
