import type { CheckResult } from '../../../../src/findings/finding.ts';
import type { ReportJson } from '../../../../src/report/reportJson.ts';
import { Trouble } from '../parts/Trouble.tsx';
import { VerdictSign } from '../parts/VerdictSign.tsx';
import { useWords } from '../words/useWords.ts';
import { problemsOf } from './problemsOf.ts';
import type { Judged } from './useJudged.ts';

/** What the changed ticket makes of the films, beside what they were. */
export function WhatChanges(props: { readonly judged: Judged; readonly before: ReportJson }) {
  const { say } = useWords();
  const { facts, error, isJudging } = props.judged;
  const isUnsound = error !== null && problemsOf(error).length > 0;
  return (
    <section class="preview" aria-label={say('judged.title')} aria-busy={isJudging}>
      <h2>{say('judged.title')}</h2>
      {isUnsound && <p>{say('judged.unsound')}</p>}
      {error !== null && !isUnsound && <Trouble error={error} />}
      {facts === null ? (
        error === null && <p role="status">{say('loading')}</p>
      ) : facts.kind === 'notMeasured' ? (
        <>
          <p role="status">{say('judged.measureAgain')}</p>
          <ul class="plain-list">
            {facts.reasons.map((reason) => (
              <li key={reason}>{reason}</li>
            ))}
          </ul>
        </>
      ) : (
        <>
          <p role="status" class="row">
            <VerdictSign verdict={props.before.verdict} /> → <VerdictSign verdict={facts.report.verdict} />
          </p>
          <Changed before={props.before.checks} after={facts.report.checks} />
        </>
      )}
    </section>
  );
}

function Changed({
  before,
  after,
}: {
  readonly before: readonly CheckResult[];
  readonly after: readonly CheckResult[];
}) {
  const { say } = useWords();
  const changed = after.flatMap((check) => {
    const was = before.find(({ id }) => id === check.id);
    if (was === undefined) return [];
    const [from, to] = [placesOf(was), placesOf(check)];
    return was.outcome === check.outcome && from === to ? [] : [{ check, was, from, to }];
  });
  if (changed.length === 0) return <p class="quiet">{say('judged.same')}</p>;
  return (
    <table class="changes">
      <thead>
        <tr>
          <th scope="col">{say('judged.check')}</th>
          <th scope="col">{say('judged.before')}</th>
          <th scope="col">{say('judged.after')}</th>
        </tr>
      </thead>
      <tbody>
        {changed.map(({ check, was, from, to }) => (
          <tr key={check.id}>
            <th scope="row">{check.asks}</th>
            <td>
              {say(`outcome.${was.outcome}`)} {from > 0 && <span class="quiet">{say('places', { count: from })}</span>}
            </td>
            <td>
              {say(`outcome.${check.outcome}`)} {to > 0 && <span class="quiet">{say('places', { count: to })}</span>}
            </td>
          </tr>
        ))}
      </tbody>
    </table>
  );
}

function placesOf({ findings }: CheckResult): number {
  return findings.reduce((sum, { placesTotal }) => sum + placesTotal, 0);
}
