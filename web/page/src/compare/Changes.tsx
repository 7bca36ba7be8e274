import { decimalsFor, readingWords } from '../../../../src/report/format.ts';
import { shownText } from '../../../../src/report/words.ts';
import type { ChangedPlace, ComparedFinding, ComparedInk, Comparison } from '../../../shared/compare.ts';
import { Rows } from '../parts/Rows.tsx';
import { useWords } from '../words/useWords.ts';

type Measured = NonNullable<NonNullable<ComparedFinding['before']>['measured']>;

const mostRowsSeen = 8;
const kinds = ['new', 'stillThere', 'fixed', 'notJudged'] as const;

/** Number of a change in the list of all. */
export type AtChange = number;

export interface Change {
  readonly ink: ComparedInk;
  readonly place: ChangedPlace;
}

/** Every changed place of every ink, largest first. */
export function changesOf(comparison: Comparison | null): Change[] {
  const sizeOf = ({ place }: Change) => place.goneMm2 + place.addedMm2;
  return (comparison?.inks ?? [])
    .flatMap((ink) => ink.places.map((place) => ({ ink, place })))
    .sort((a, b) => sizeOf(b) - sizeOf(a));
}

/** What became of the findings, and where the films differ. */
export function Changes(props: {
  readonly comparison: Comparison;
  readonly changes: readonly Change[];
  readonly at: AtChange | null;
  onAt(at: AtChange): void;
}) {
  const { say, number } = useWords();
  const { inks, findings, difference } = props.comparison;
  const total = inks.reduce((sum, { placesTotal }) => sum + placesTotal, 0);
  const least = Math.max(0, ...inks.map(({ leastChangeMm }) => leastChangeMm));
  return (
    <aside class="worklist" aria-label={say('compare.list')}>
      <div class="worklist-body">
        {kinds.map((kind) => {
          const found = findings.filter((finding) => finding.kind === kind);
          if (kind === 'notJudged' && found.length === 0) return null;
          return (
            <section key={kind}>
              <h2>{say(`compare.${kind}`, { count: found.length })}</h2>
              <ul class="plain-list">
                {found.map((finding) => (
                  <FindingLine
                    key={JSON.stringify([finding.checkId, finding.code, finding.inkNames])}
                    finding={finding}
                  />
                ))}
              </ul>
            </section>
          );
        })}
        <section>
          <h2>{say('compare.places', { count: total })}</h2>
          {difference === null && <p>{say('compare.noPlates')}</p>}
          <SizeNote comparison={props.comparison} />
          <ul class="plain-list">
            {inks.map((ink) => (
              <li key={ink.inkName}>
                <strong>{shownText(ink.inkName)}</strong> {say(`compare.ink.${ink.kind}`)}
                {ink.nameBefore !== null && ink.nameBefore !== ink.inkName && (
                  <span class="quiet"> {say('compare.wasCalled', { name: shownText(ink.nameBefore) })}</span>
                )}
                {(ink.kind === 'changed' || ink.placesTotal > 0) && (
                  <span class="quiet">
                    {' '}
                    {say('compare.areas', { gone: number(ink.goneMm2, 1), added: number(ink.addedMm2, 1) })}
                  </span>
                )}
              </li>
            ))}
          </ul>
          {least > 0 && <p class="quiet">{say('compare.least', { mm: number(least, 2) })}</p>}
          {props.changes.length < total && (
            <p class="quiet">{say('places.more', { shown: props.changes.length, total })}</p>
          )}
          {props.changes.length > 0 && (
            <Rows
              count={props.changes.length}
              mostSeen={mostRowsSeen}
              at={props.at}
              row={(index) => {
                const { ink, place } = props.changes[index];
                return (
                  <button
                    type="button"
                    aria-current={index === props.at ? 'true' : undefined}
                    onClick={() => props.onAt(index)}
                  >
                    <span>{index + 1}</span>
                    <span>
                      {number(place.xMm + place.widthMm / 2, 1)}, {number(place.yMm + place.heightMm / 2, 1)} mm
                      {' · '}
                      {shownText(ink.inkName)}
                    </span>
                    <span>
                      {number(place.widthMm, 2)} × {number(place.heightMm, 2)} mm
                    </span>
                  </button>
                );
              }}
            />
          )}
        </section>
      </div>
    </aside>
  );
}

function FindingLine({ finding }: { readonly finding: ComparedFinding }) {
  const { say } = useWords();
  const { before, after } = finding;
  const readings = [before, after].flatMap((then) => (then?.measured == null ? [] : [then.measured.value]));
  const readingOf = (measured: Measured) =>
    readingWords(measured, decimalsFor(measured.unit, readings, measured.plusMinus));
  const told = (then: ComparedFinding['before']) =>
    then === null
      ? ''
      : [
          // What is counted is counted by its places.
          then.measured === null || then.measured.unit === 'count' ? '' : readingOf(then.measured),
          then.placesTotal > 0 ? say('places', { count: then.placesTotal }) : '',
        ]
          .filter((part) => part !== '')
          .join(', ');
  return (
    <li>
      {finding.title} {finding.inkNames.length > 0 && <strong>{shownText(finding.inkNames.join(' / '))}</strong>}{' '}
      <span class="quiet">
        {before !== null && after !== null && told(before) !== told(after)
          ? `${told(before)} → ${told(after)}`
          : told(after ?? before)}
      </span>
    </li>
  );
}

/** Films of other sizes are laid on each other by their upper left corners. */
function SizeNote({ comparison: { before, after } }: { readonly comparison: Comparison }) {
  const { say, number } = useWords();
  const sizes = [before, after].map(({ filmsMm }) =>
    filmsMm.map(({ widthMm, heightMm }) => `${number(widthMm, 1)} × ${number(heightMm, 1)} mm`).join(', '),
  );
  return sizes[0] === sizes[1] ? null : <p>{say('compare.sizes', { before: sizes[0], after: sizes[1] })}</p>;
}
