import type { ReportDecision, ReportDecisions, ReportJson } from './reportJson.ts';

const decided: Readonly<Record<ReportDecision['kind'], string>> = {
  release: 'Released for filming',
  hold: 'Put on hold',
  askCustomer: 'Asked the customer, on hold until the answer',
  acceptFinding: 'Accepted as it is',
  doOurselves: 'We put it right ourselves',
};

const happened: Readonly<Record<string, string>> = {
  arrived: 'arrived',
  claimed: 'checking began',
  handedBack: 'handed back',
  leaseRanOut: 'the check went silent',
  failed: 'the check broke off',
  checked: 'checked',
  couldNotRun: 'could not be checked',
  setAside: 'set aside',
  triedAgain: 'checked again',
  moved: 'originals moved',
  released: 'released for filming',
  putOnHold: 'put on hold',
  customerAsked: 'the customer asked',
  findingAccepted: 'a finding accepted',
  takenOn: 'a finding taken on by the shop',
  decisionUndone: 'a decision undone',
  mailQueued: 'a note given to the post',
  mailSent: 'the note sent',
  mailGivenUp: 'the note not sent for sure',
  linkMade: 'a link made for the customer',
  linkRevoked: 'a link for the customer closed',
  customerApproved: 'approved by the customer',
  customerDeclined: 'not approved by the customer',
};

/** How the revision stands, in one sentence. */
export function standingSentence({ revision, standing, isSuperseded }: ReportDecisions): string {
  if (isSuperseded) return `Revision ${revision}: a later revision of this job came, so nothing here holds any longer.`;
  if (standing === null) return `Revision ${revision}: nobody has released it yet.`;
  return `Revision ${revision}: ${standing === 'released' ? 'released for filming' : 'on hold, not to be filmed'}.`;
}

/** One decision as people read it. */
export interface DecisionLine {
  readonly when: string;
  readonly who: string;
  /** What was decided, and of which finding: "Accepted as it is: Some lines are too thin to print, Coral". */
  readonly what: string;
  readonly reason: string;
  /** Empty while it holds. */
  readonly undone: string;
}

/** Oldest first. Findings are named as the report names them, where it still has them. */
export function decisionLines({ made }: ReportDecisions, checks: ReportJson['checks']): DecisionLine[] {
  return made.map(({ kind, by, reason, at, finding, undone }) => {
    const title = checks.find(({ id }) => id === finding?.checkId)?.title ?? finding?.checkId;
    const about = finding === null ? '' : `: ${[title, finding.inkNames.join(' / ')].filter(Boolean).join(', ')}`;
    return {
      when: timeWords(at),
      who: by,
      what: `${decided[kind]}${about}`,
      reason,
      undone:
        undone === null
          ? ''
          : `Undone by ${undone.by}, ${timeWords(undone.at)}${undone.reason === '' ? '' : `: ${undone.reason}`}`,
    };
  });
}

/** What happened to the job, oldest first. */
export function historyLines({ history }: ReportDecisions): { when: string; who: string; what: string }[] {
  return history.map(({ at, who, what, revision }) => ({
    when: timeWords(at),
    who,
    what: `${happened[what] ?? what}${revision === null ? '' : ` (revision ${revision})`}`,
  }));
}

/** "2026-11-29 19:40 UTC". */
function timeWords(at: string): string {
  return `${at.slice(0, 16).replace('T', ' ')} UTC`;
}
