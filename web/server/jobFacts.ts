import type { Decision, HistoryEntry, Job, Revision, RevisionSummary } from '../../src/jobs/jobTypes.ts';
import type { DecisionFacts, JobFacts, JobLine, RevisionFacts } from '../shared/jobs.ts';

/** What the page is told of jobs; paths of this machine stay here. */
export function jobLineOf(revision: RevisionSummary): JobLine {
  const { jobId, jobName, customer, state, verdict, standing, customerAnswer, reason } = revision;
  const { inkNames, sizeBytes, arrivedAt, finishedAt } = revision;
  return {
    jobId,
    jobName,
    customer,
    revision: revision.revision,
    state,
    verdict,
    standing,
    customerAnswer,
    reason,
    inkNames,
    sizeBytes,
    arrivedAt,
    finishedAt,
  };
}

export function jobFactsOf(job: Job): JobFacts {
  return {
    jobId: job.jobId,
    jobName: job.jobName,
    customer: job.customer,
    revisions: job.revisions.map(revisionFactsOf).reverse(),
    history: job.history.map(historyFactsOf).reverse(),
  };
}

function historyFactsOf({ at, who, what, revision, detail }: HistoryEntry): JobFacts['history'][number] {
  const { to, messageId } = detail;
  const isMail = typeof to === 'string' && typeof messageId === 'string';
  return { at, who, what, revision, ...(isMail && { mail: { to, messageId } }) };
}

function revisionFactsOf(revision: Revision): RevisionFacts {
  return {
    ...jobLineOf(revision),
    isLatest: revision.isLatest,
    files: revision.files.map(({ name, sizeBytes, sha256 }) => ({ name, sizeBytes, sha256 })),
    ticketFileName: revision.ticketFile?.name ?? null,
    artifacts: revision.artifacts.map(({ name, sizeBytes }) => ({ name, sizeBytes })),
    decisions: revision.decisions.map(decisionFactsOf),
    answers: revision.answers.map(({ kind, name, remark, at, contentKey }) => ({ kind, name, remark, at, contentKey })),
  };
}

function decisionFactsOf({ id, kind, by, reason, at, finding, undone }: Decision): DecisionFacts {
  return { id, kind, by, reason, at, finding: finding ?? null, undone };
}
