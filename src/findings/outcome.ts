/** Order of the outcomes, worst first: couldNotRun > fail > needsReview > pass > notApplicable. */
export type Outcome = 'couldNotRun' | 'fail' | 'needsReview' | 'pass' | 'notApplicable';
export type Verdict = 'couldNotRun' | 'fail' | 'needsReview' | 'pass';

const rank: Record<Outcome, number> = { couldNotRun: 4, fail: 3, needsReview: 2, pass: 1, notApplicable: 0 };

export function worstOutcome(outcomes: Iterable<Outcome>): Outcome {
  let worst: Outcome = 'notApplicable';
  for (const outcome of outcomes) if (rank[outcome] > rank[worst]) worst = outcome;
  return worst;
}

/** The job's verdict: the worst of its checks. Nothing but notApplicable, or no check at all, is never a pass. */
export function verdictOf(outcomes: Iterable<Outcome>): Verdict {
  const worst = worstOutcome(outcomes);
  return worst === 'notApplicable' ? 'needsReview' : worst;
}
