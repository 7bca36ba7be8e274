import { setTimeout as pause } from 'node:timers/promises';
import { expect, it } from 'vitest';
import type { JobStore } from '../../../src/jobs/jobStore.ts';
import type { Claim, SizeClass } from '../../../src/jobs/jobTypes.ts';
import type { Database, SqlValue, Transaction } from '../../../src/jobs/sql/database.ts';
import { sqlJobStore } from '../../../src/jobs/sql/sqlJobStore.ts';
import { arrival, jobFile, result, type StoreUnderTest } from '../../support/jobStores.ts';

const longMs = 60_000;

/** As if everybody who holds something had stopped answering long ago. */
const runOut = ({ database }: StoreUnderTest) =>
  database.write((transaction) => transaction.change('UPDATE revisions SET lease_until = 0 WHERE lease_until > 0'));

/** The same database, but for some of what its transactions answer. */
function changed(database: Database, change: (transaction: Transaction) => Partial<Transaction>): Database {
  return {
    idColumn: database.idColumn,
    read: (work) => database.read(work),
    write: (work) => database.write((transaction) => work({ ...transaction, ...change(transaction) })),
  } as Database;
}

export function queue(make: (maxFailures?: number) => Promise<StoreUnderTest>): void {
  const claimBy = (store: JobStore, workerId: string, leaseMs = longMs) => store.claim({ workerId, leaseMs });

  it('gives each revision to one hand, oldest first', async () => {
    const { store } = await make();
    expect(await claimBy(store, 'hand')).toBeNull();
    const names = Array.from({ length: 12 }, (_, index) => `job ${index}`);
    for (const name of names) await store.takeIn(arrival(name));
    const claims = await Promise.all(names.map((_, index) => claimBy(store, `hand ${index}`)));
    expect(claims.map((claim) => claim!.jobName).sort()).toEqual([...names].sort());
    expect(await claimBy(store, 'late hand')).toBeNull();
    await store.handBack(claims.find((claim) => claim!.jobName === 'job 7')!.lease, 'stopping');
    await store.handBack(claims.find((claim) => claim!.jobName === 'job 3')!.lease, 'stopping');
    expect((await claimBy(store, 'late hand'))!.jobName).toBe('job 3');
  });

  it('gives a hand only what lies where it can put it away', async () => {
    const { store } = await make();
    await store.takeIn(arrival('elsewhere', { placeAt: '/other_/jobs/1/keep' }));
    await store.takeIn(arrival('here', { placeAt: '/café/jobs/1/keep' }));
    await store.takeIn(arrival('page', { placeAt: null }));
    const placesUnder = ['/café/jobs/', '/other%/jobs/'];
    const names: (string | undefined)[] = [];
    for (let n = 0; n < 3; n++)
      names.push((await store.claim({ workerId: `hand ${n}`, leaseMs: longMs, placesUnder }))?.jobName);
    expect(names).toEqual(['here', 'page', undefined]);
    expect((await claimBy(store, 'any'))!.jobName).toBe('elsewhere');
  });

  it('tells what changed after a change', async () => {
    const { store } = await make();
    expect(await store.changesAfter(null)).toEqual([]);
    const { jobId } = await store.takeIn(arrival('tee'));
    const [last] = await store.changesAfter(null);
    expect(last).toMatchObject({ jobId, what: 'arrived' });
    const { lease } = (await claimBy(store, 'hand'))!;
    await store.finish(lease, result());
    expect((await store.changesAfter(last.id)).map(({ what }) => what)).toEqual(['claimed', 'checked']);
  });

  it('tells the hand all it needs', async () => {
    const { store } = await make();
    const ticketFile = jobFile('ticket.yaml', 'c');
    const { revisionId, jobId } = await store.takeIn(arrival('tee', { customer: 'Village band', ticketFile }));
    const claim = (await claimBy(store, 'hand'))!;
    expect(claim).toMatchObject({
      lease: { revisionId, attempt: 1, workerId: 'hand' },
      failuresBefore: 0,
      jobId,
      jobName: 'tee',
      customer: 'Village band',
      revision: 1,
      source: { kind: 'folder', detail: '/drop' },
      files: [jobFile('tee', 'a')],
      ticketFile,
      sizeClass: 'small',
      placeAt: '/spool',
    });
  });

  it('writes a result once, with everything that belongs to it', async () => {
    const { store } = await make();
    const { revisionId } = await store.takeIn(arrival('tee'));
    const { lease } = (await claimBy(store, 'hand'))!;
    const artifacts = [
      { kind: 'reportJson', name: 'report.json', sha256: 'd'.repeat(64), sizeBytes: 20 },
      { kind: 'picture', name: 'pictures/1.png', sha256: 'e'.repeat(64), sizeBytes: 30 },
    ] as const;
    const work = result({
      verdict: 'fail',
      artifacts,
      inkNames: ['Lagoon', 'Coral'],
      timings: { read: 0.25, measure: 1.5 },
      moveTo: { folder: '/outcome/failed/tee', leaseMs: longMs },
      effects: [{ key: 'notify:1', kind: 'notify', payload: { verdict: 'fail' } }],
    });
    const finished = await store.finish(lease, work);
    expect(finished).toMatchObject({ accepted: true, move: { from: '/spool', to: '/outcome/failed/tee' } });
    // The answer may have been lost: asked again, the same answer, and nothing twice.
    expect(await store.finish(lease, result({ verdict: 'pass' }))).toEqual(finished);
    expect(await store.revision(revisionId)).toMatchObject({
      state: 'checked',
      verdict: 'fail',
      artifacts,
      inkNames: ['Lagoon', 'Coral'],
      timings: { read: 0.25, measure: 1.5 },
      place: { at: '/spool', movingTo: '/outcome/failed/tee' },
    });
    expect(await store.counts()).toMatchObject({
      revisions: { waiting: 0, working: 0, checked: 1 },
      effects: { waiting: 1 },
      pendingMoves: 1,
      worked: { count: 1 },
    });
    expect((await store.job('tee'))!.history.map(({ what }) => what)).toEqual(['arrived', 'claimed', 'checked']);
  });

  it('keeps what could not run apart from what was checked', async () => {
    const { store } = await make();
    const { revisionId } = await store.takeIn(arrival('tee'));
    const { lease } = (await claimBy(store, 'hand'))!;
    await store.finish(lease, result({ verdict: 'couldNotRun', reason: 'The PDF ends too early.' }));
    expect(await store.revision(revisionId)).toMatchObject({
      state: 'couldNotRun',
      verdict: 'couldNotRun',
      reason: 'The PDF ends too early.',
    });
  });

  it('gives a revision to the next hand when a lease runs out, and takes nothing from the hand that lost it', async () => {
    const { store } = await make();
    const { revisionId } = await store.takeIn(arrival('tee'));
    const stale = (await claimBy(store, 'hand one', 1_000))!;
    expect(await claimBy(store, 'hand two')).toBeNull();
    await pause(1_100);
    const next = (await claimBy(store, 'hand two'))!;
    expect(next).toMatchObject({ lease: { revisionId, attempt: 2 }, failuresBefore: 1 });

    expect(await store.renew(stale.lease, longMs)).toBeNull();
    expect(await store.finish(stale.lease, result({ verdict: 'fail' }))).toEqual({ accepted: false });
    expect(await store.handBack(stale.lease, 'late')).toBe(false);
    expect(await store.fail(stale.lease, 'late')).toEqual({ outcome: 'lost' });
    expect(await store.revision(revisionId)).toMatchObject({ state: 'working', attempt: 2, verdict: null });

    expect(await store.finish(next.lease, result({ verdict: 'pass' }))).toMatchObject({ accepted: true });
    expect(await store.finish(stale.lease, result({ verdict: 'fail' }))).toEqual({ accepted: false });
    expect(await store.revision(revisionId)).toMatchObject({ state: 'checked', verdict: 'pass' });
  });

  it('does not mistake the same worker on a later attempt for the one that stalled', async () => {
    const made = await make();
    const { store } = made;
    await store.takeIn(arrival('tee'));
    const stale = (await claimBy(store, 'hand'))!;
    await runOut(made);
    const next = (await claimBy(store, 'hand'))!;
    expect(await store.finish(stale.lease, result())).toEqual({ accepted: false });
    expect(await store.finish(next.lease, result())).toMatchObject({ accepted: true });
  });

  it('keeps a lease that is renewed', async () => {
    const { store } = await make();
    await store.takeIn(arrival('tee'));
    const { lease, leaseUntil } = (await claimBy(store, 'hand', 1_000))!;
    for (let beat = 0; beat < 6; beat++) {
      await pause(200);
      expect(await store.renew(lease, 1_000)).toBeGreaterThan(leaseUntil);
      expect(await claimBy(store, 'other')).toBeNull();
    }
    expect(await store.finish(lease, result())).toMatchObject({ accepted: true });
  });

  it('tries again with growing pauses and sets aside with the reason after the last try', async () => {
    const { store, database } = await make(3);
    const { revisionId } = await store.takeIn(arrival('tee'));
    const pauses: number[] = [];
    for (let turn = 1; turn <= 2; turn++) {
      const { lease } = (await claimBy(store, 'hand'))!;
      const { now } = await store.counts();
      const failed = await store.fail(lease, `decoder crashed, turn ${turn}`);
      expect(failed).toMatchObject({ outcome: 'waitingAgain', failures: turn });
      pauses.push((failed as { notBefore: number }).notBefore - now);
      expect(await claimBy(store, 'hand')).toBeNull();
      await database.write((transaction) => transaction.change('UPDATE revisions SET claimable_from = 0'));
    }
    expect(pauses[0]).toBeGreaterThanOrEqual(5_000);
    expect(pauses[1]).toBeGreaterThanOrEqual(10_000);
    const last = (await claimBy(store, 'hand'))!;
    expect(last.failuresBefore).toBe(2);
    expect(await store.fail(last.lease, 'decoder crashed, turn 3')).toEqual({ outcome: 'setAside', failures: 3 });
    expect(await claimBy(store, 'hand')).toBeNull();
    expect(await store.revision(revisionId)).toMatchObject({ state: 'setAside', reason: 'decoder crashed, turn 3' });

    expect(await store.tryAgain(revisionId, 'Mila')).toBe(true);
    expect(await store.tryAgain(revisionId, 'Mila')).toBe(false);
    expect(await claimBy(store, 'hand')).toMatchObject({ failuresBefore: 0, lease: { attempt: 4 } });
  });

  it('sets aside a job that takes every worker with it', async () => {
    const made = await make(2);
    const { store } = made;
    const { revisionId } = await store.takeIn(arrival('bomb'));
    for (let turn = 0; turn < 2; turn++) {
      expect(await claimBy(store, `hand ${turn}`)).not.toBeNull();
      await runOut(made);
    }
    expect(await claimBy(store, 'hand 3')).toBeNull();
    const revision = (await store.revision(revisionId))!;
    expect(revision).toMatchObject({ state: 'setAside', failures: 2 });
    expect(revision.reason).toContain('hand 1 stopped answering');
  });

  it('does not count what is handed back as a failure', async () => {
    const { store } = await make(1);
    await store.takeIn(arrival('tee'));
    await store.takeIn(arrival('poster'));
    for (let turn = 0; turn < 3; turn++) {
      const claims = [(await claimBy(store, 'one'))!, (await claimBy(store, 'two'))!];
      expect(claims.map(({ failuresBefore }) => failuresBefore)).toEqual([0, 0]);
      expect(await store.handBackAllOf(['one', 'two', 'nobody'], 'restarted')).toBe(2);
      expect(await store.handBack(claims[0].lease, 'late')).toBe(false);
    }
    expect((await store.counts()).revisions.waiting).toBe(2);
  });

  it('recovers within one lease when the clock is set back by a day', async () => {
    const { store, database } = await make();
    await store.takeIn(arrival('tee'));
    const { lease } = (await claimBy(store, 'hand', 300))!;
    const dayMs = 86_400_000;
    await database.write((transaction) =>
      transaction.change('UPDATE revisions SET lease_until = lease_until + ?', [dayMs]),
    );
    // The lease is cut to its length when it is seen; the worker may still be alive, so it keeps that.
    const restarted = () => sqlJobStore(database, 3);
    expect(await claimBy(restarted(), 'other')).toBeNull();
    await pause(400);
    const next = (await claimBy(store, 'other'))!;
    expect(next.lease.attempt).toBe(2);
    expect(await store.finish(lease, result())).toEqual({ accepted: false });
    const failed = await store.fail(next.lease, 'crashed');
    await database.write((transaction) =>
      transaction.change('UPDATE revisions SET claimable_from = claimable_from + ?', [dayMs]),
    );
    expect(failed.outcome).toBe('waitingAgain');
    await claimBy(restarted(), 'other');
    const row = await database.read((transaction) =>
      transaction.all<{ claimable_from: number }>('SELECT claimable_from FROM revisions'),
    );
    expect(row[0].claimable_from - (await store.counts()).now).toBeLessThanOrEqual(10_000);
  });

  it('notices while it runs that the clock was set back', async () => {
    const { database } = await make();
    let aheadMs = 0;
    const store = sqlJobStore(
      changed(database, (transaction) => ({ now: async () => (await transaction.now()) + aheadMs })),
      3,
    );
    await store.takeIn(arrival('tee'));
    aheadMs = 86_400_000;
    await claimBy(store, 'hand', 300);
    aheadMs = 0;
    expect(await claimBy(store, 'other')).toBeNull();
    await pause(400);
    expect(await claimBy(store, 'other')).toMatchObject({ lease: { attempt: 2 } });
  });

  it('takes nothing from hands at work when the clock jumps an hour on, and finds out all the same who is gone', async () => {
    const { database } = await make();
    let monotonicMs = 0;
    let wallMs = 1_000_000_000;
    const store = sqlJobStore(
      changed(database, () => ({ now: async () => wallMs })),
      3,
      () => monotonicMs,
    );
    const pass = (ms: number) => {
      monotonicMs += ms;
      wallMs += ms;
    };
    for (const name of ['tee', 'poster']) await store.takeIn(arrival(name));
    const alive = (await claimBy(store, 'alive', 30_000))!;
    await claimBy(store, 'gone', 30_000);
    pass(20_000);
    wallMs += 3_600_000;
    expect(await claimBy(store, 'other', 30_000)).toBeNull();
    pass(20_000);
    expect(await store.renew(alive.lease, 30_000)).toBe(wallMs + 30_000);
    pass(11_000);
    expect(await claimBy(store, 'other', 30_000)).toMatchObject({ jobName: 'poster', lease: { attempt: 2 } });
    wallMs -= 3_600_000;
    expect(await claimBy(store, 'third', 30_000)).toBeNull();
    expect(await store.finish(alive.lease, result())).toMatchObject({ accepted: true });
  });

  it('keeps to its limit of large jobs when hands ask at the same instant', async () => {
    const { store, database } = await make();
    for (let index = 0; index < 4; index++) await store.takeIn(arrival(`large ${index}`, { sizeClass: 'large' }));
    for (let index = 0; index < 4; index++) await store.takeIn(arrival(`small ${index}`));
    // Each has counted who is at work before any has taken what it chose.
    const slow = changed(database, (transaction) => ({
      all: async <Row extends object>(sql: string, values?: readonly SqlValue[]) => {
        const rows = await transaction.all<Row>(sql, values);
        if (sql.includes('AS hands')) await pause(150);
        return rows;
      },
    }));
    const hands = sqlJobStore(slow, 3);
    const claims = await Promise.all([1, 2, 3, 4].map((hand) => claimBy(hands, `hand ${hand}`)));
    expect(claims.map((claim) => claim!.sizeClass).sort()).toEqual(['large', 'large', 'small', 'small']);
  });

  it('does not let large jobs stand before small ones while a hand is free', async () => {
    const { store } = await make();
    const drop = (name: string, sizeClass: SizeClass) => store.takeIn(arrival(name, { sizeClass }));
    for (let index = 0; index < 4; index++) await drop(`large ${index}`, 'large');
    for (let index = 0; index < 4; index++) await drop(`small ${index}`, 'small');
    const work = async (hand: string) => (await claimBy(store, hand)) as Claim;
    const first = await work('one');
    expect(first.jobName).toBe('large 0');
    // While one of two hands has a large one, the other works off the small ones.
    for (let index = 0; index < 3; index++) {
      const small = await work('two');
      expect(small.jobName).toBe(`small ${index}`);
      await store.finish(small.lease, result());
    }
    // The hand that had a large one takes a small one next, and then the oldest large one has its turn.
    await store.finish(first.lease, result());
    const fourth = await work('one');
    expect(fourth.jobName).toBe('small 3');
    expect((await work('two')).jobName).toBe('large 1');
    await store.finish(fourth.lease, result());
    // Nothing small is left: no hand stays idle.
    expect((await work('one')).jobName).toBe('large 2');
    expect((await work('three')).jobName).toBe('large 3');
  });

  it('takes turns with a single hand', async () => {
    const { store } = await make();
    for (let index = 0; index < 3; index++) {
      await store.takeIn(arrival(`large ${index}`, { sizeClass: 'large' }));
    }
    for (let index = 0; index < 3; index++) await store.takeIn(arrival(`small ${index}`));
    const order: string[] = [];
    for (let claim = await claimBy(store, 'hand'); claim !== null; claim = await claimBy(store, 'hand')) {
      order.push(claim.jobName);
      await store.finish(claim.lease, result());
    }
    expect(order).toEqual(['large 0', 'small 0', 'large 1', 'small 1', 'large 2', 'small 2']);
  });
}
