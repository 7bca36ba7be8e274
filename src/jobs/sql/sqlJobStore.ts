import type { JobStore } from '../jobStore.ts';
import { changesAfter } from './changes.ts';
import { claim } from './claim.ts';
import { counts } from './counts.ts';
import { answerAsCustomer } from './customerAnswers.ts';
import { customerLinkBy, customerLinks, makeCustomerLink, revokeCustomerLink } from './customerLinks.ts';
import type { Database, Transaction } from './database.ts';
import { decide, undoDecision } from './decisions.ts';
import { addEffects, claimEffect, effectBegun, effectDone, effectFailed, effectsOf } from './effects.ts';
import { exportRows } from './exportRows.ts';
import { find } from './find.ts';
import { fail, finish, handBack, handBackAllOf, renew, tryAgain } from './finish.ts';
import { ClockWatch } from './leases.ts';
import { claimMove, endMove, planMove } from './moves.ts';
import { prune } from './prune.ts';
import { job, revision, revisionOfArtifact } from './readJobs.ts';
import { takeIn } from './takeIn.ts';

/** Reports and pictures, and the originals of what came through the page. */
const blobsReferredTo = `SELECT sha256 FROM artifacts UNION
  SELECT files.sha256 FROM files JOIN revisions ON revisions.id = files.revision_id
    WHERE revisions.source_kind = 'page' ORDER BY 1`;

/** The job store on either database: each call is one transaction. `monotonicMs` is a clock that nobody sets. */
export function sqlJobStore(database: Database, maxFailures: number, monotonicMs?: () => number): JobStore {
  const clock = new ClockWatch(monotonicMs);
  const claiming = <Result>(work: (transaction: Transaction) => Promise<Result>) =>
    database.write(work).catch((error) => {
      clock.forget();
      throw error;
    });
  return {
    takeIn: (arrival) => database.write((transaction) => takeIn(transaction, arrival)),
    claim: (wish) => claiming((transaction) => claim(transaction, clock, wish, maxFailures)),
    renew: (lease, leaseMs) => database.write((transaction) => renew(transaction, lease, leaseMs)),
    finish: (lease, result) => database.write((transaction) => finish(transaction, lease, result)),
    handBack: (lease, reason) => database.write((transaction) => handBack(transaction, lease, reason)),
    fail: (lease, reason) => database.write((transaction) => fail(transaction, lease, reason, maxFailures)),
    handBackAllOf: (ids, reason) => database.write((transaction) => handBackAllOf(transaction, ids, reason)),
    tryAgain: (id, by) => database.write((transaction) => tryAgain(transaction, id, by)),
    planMove: (id, to, wish) => database.write((transaction) => planMove(transaction, id, to, wish)),
    claimMove: (wish) => claiming((transaction) => claimMove(transaction, clock, wish)),
    endMove: (move, outcome) => database.write((transaction) => endMove(transaction, move, outcome)),
    addEffects: (effects) => database.write((transaction) => addEffects(transaction, effects)),
    claimEffect: (wish) => claiming((transaction) => claimEffect(transaction, clock, wish)),
    effectBegun: (effect) => database.write((transaction) => effectBegun(transaction, effect)),
    effectDone: (effect, told, kept) =>
      database.write((transaction) => effectDone(transaction, effect, told ?? null, kept)),
    effectFailed: (effect, reason, retryAfterMs, told) =>
      database.write((transaction) => effectFailed(transaction, effect, reason, retryAfterMs, told ?? null)),
    effectsOf: (revisionId, kind) => database.read((transaction) => effectsOf(transaction, revisionId, kind)),
    decide: (decision) => database.write((transaction) => decide(transaction, decision)),
    undoDecision: (id, by, reason) => database.write((transaction) => undoDecision(transaction, id, by, reason)),
    makeCustomerLink: (link) => database.write((transaction) => makeCustomerLink(transaction, link)),
    customerLinkBy: (tokenSha256) => database.read((transaction) => customerLinkBy(transaction, tokenSha256)),
    customerLinks: (jobId) => database.read((transaction) => customerLinks(transaction, jobId)),
    revokeCustomerLink: (id, by) => database.write((transaction) => revokeCustomerLink(transaction, id, by)),
    answerAsCustomer: (answer) => database.write((transaction) => answerAsCustomer(transaction, answer)),
    job: (nameOrId) => database.read((transaction) => job(transaction, nameOrId)),
    revision: (id) => database.read((transaction) => revision(transaction, id)),
    revisionOfArtifact: (sha256) => database.read((transaction) => revisionOfArtifact(transaction, sha256)),
    find: (filter) => database.read((transaction) => find(transaction, filter)),
    counts: () => database.read((transaction) => counts(transaction)),
    changesAfter: (id) => database.read((transaction) => changesAfter(transaction, id)),
    prune: (rule, by) => database.write((transaction) => prune(transaction, rule, by)),
    blobsInUse: () =>
      database.read(async (transaction) =>
        (await transaction.all<{ sha256: string }>(blobsReferredTo)).map(({ sha256 }) => sha256),
      ),
    exportRows: (file) => exportRows(database, file),
    close: () => database.close(),
  };
}
