import { expect, it } from 'vitest';
import type { JobStore } from '../../../src/jobs/jobStore.ts';
import type { JobFilter } from '../../../src/jobs/jobTypes.ts';
import { arrival, jobFile, result, type StoreUnderTest } from '../../support/jobStores.ts';

export function people(make: () => Promise<StoreUnderTest>): void {
  async function work(store: JobStore, more: Parameters<typeof result>[0]) {
    const claim = (await store.claim({ workerId: 'hand', leaseMs: 60_000 }))!;
    await store.finish(claim.lease, result(more));
  }

  it('keeps decisions with name, reason and time, and can undo them', async () => {
    const { store } = await make();
    const { revisionId } = await store.takeIn(arrival('tee'));
    await work(store, { verdict: 'needsReview' });
    const finding = { checkId: 'thin-line', code: 'thinner-than-ticket', inkNames: ['Lagoon'] };
    const accepted = await store.decide({
      revisionId,
      kind: 'acceptFinding',
      by: 'Mila',
      reason: 'held on the last run',
      finding,
    });
    const hold = await store.decide({ revisionId, kind: 'hold', by: 'Mila', reason: 'waiting for the band' });
    expect((await store.revision(revisionId))!.standing).toBe('onHold');
    const release = await store.decide({ revisionId, kind: 'release', by: 'Jon', reason: '' });
    expect((await store.revision(revisionId))!.standing).toBe('released');
    expect(await store.undoDecision(release.id, 'Mila', 'too early')).toBe(true);
    expect(await store.undoDecision(release.id, 'Mila', 'too early')).toBe(false);
    expect((await store.revision(revisionId))!.standing).toBe('onHold');
    expect(await store.undoDecision(hold.id, 'Mila', '')).toBe(true);
    const revision = (await store.revision(revisionId))!;
    expect(revision.standing).toBeNull();
    expect(revision.decisions[0]).toEqual(accepted);
    expect(revision.decisions[0]).toMatchObject({ by: 'Mila', reason: 'held on the last run', finding, undone: null });
    expect(revision.decisions[2].undone).toMatchObject({ by: 'Mila', reason: 'too early' });
    expect((await store.job('tee'))!.history.slice(3).map(({ who, what }) => [who, what])).toEqual([
      ['Mila', 'findingAccepted'],
      ['Mila', 'putOnHold'],
      ['Jon', 'released'],
      ['Mila', 'decisionUndone'],
      ['Mila', 'decisionUndone'],
    ]);
  });

  it('holds while the customer is asked, and lets a finding be taken on by the shop', async () => {
    const { store } = await make();
    const { revisionId } = await store.takeIn(arrival('tee'));
    await work(store, { verdict: 'fail' });
    await store.decide({ revisionId, kind: 'release', by: 'Mila', reason: '' });
    const asked = await store.decide({ revisionId, kind: 'askCustomer', by: 'Mila', reason: 'which blue' });
    expect((await store.revision(revisionId))!.standing).toBe('onHold');
    const finding = { checkId: 'short-trap', code: 'short', inkNames: ['Coral'] };
    await store.decide({ revisionId, kind: 'doOurselves', by: 'Jon', reason: 'spread by hand', finding });
    expect((await store.revision(revisionId))!.standing).toBe('onHold');
    await store.undoDecision(asked.id, 'Mila', 'they answered');
    expect((await store.revision(revisionId))!.standing).toBe('released');
    expect((await store.job('tee'))!.history.slice(3).map(({ what }) => what)).toEqual([
      'released',
      'customerAsked',
      'takenOn',
      'decisionUndone',
    ]);
    await expect(store.decide({ revisionId, kind: 'doOurselves', by: 'Jon', reason: '', finding })).rejects.toThrow(
      'why',
    );
  });

  it('does not carry a release over to changed files, whichever way they come', async () => {
    const { store } = await make();
    const { revisionId } = await store.takeIn(arrival('tee'));
    await work(store, { verdict: 'pass' });
    await store.decide({ revisionId, kind: 'release', by: 'Mila', reason: '' });
    for (const kind of ['folder', 'page', 'commandLine', 'mail'] as const) {
      const files = [jobFile('tee.tif', `changed by ${kind}`)];
      const next = await store.takeIn(arrival('tee', { files, source: { kind, detail: 'again' } }));
      expect(next.kind).toBe('newRevision');
      expect((await store.revision(next.revisionId))!.standing).toBeNull();
      expect((await store.find({ standing: 'released' })).revisions).toEqual([]);
      expect((await store.job('tee'))!.revisions.filter(({ isLatest }) => isLatest)).toMatchObject([
        { revision: next.revision, standing: null },
      ]);
    }
  });

  it('asks for a name, and for a reason where a finding is accepted', async () => {
    const { store } = await make();
    const { revisionId } = await store.takeIn(arrival('tee'));
    await expect(store.decide({ revisionId, kind: 'release', by: ' ', reason: '' })).rejects.toThrow('name');
    await expect(store.decide({ revisionId, kind: 'acceptFinding', by: 'Mila', reason: '' })).rejects.toThrow('why');
    await expect(store.decide({ revisionId: 999, kind: 'hold', by: 'Mila', reason: '' })).rejects.toThrow('999');
    expect((await store.revision(revisionId))!.decisions).toEqual([]);
  });

  it('finds by name, customer, date, verdict, ink, state and standing', async () => {
    const { store } = await make();
    const day = (date: number) => Date.UTC(2026, 6, date);
    await store.takeIn(arrival('Midsummer tee', { customer: 'Höhenweg Choir', arrivedAt: day(1) }));
    await work(store, { verdict: 'fail', inkNames: ['Lagoon', 'White base'] });
    await store.takeIn(arrival('Midsummer poster 100%', { customer: 'Village band', arrivedAt: day(2) }));
    await work(store, { verdict: 'pass', inkNames: ['Coral'] });
    const old = await store.takeIn(arrival('Brass_band hoodie', { customer: 'Village band', arrivedAt: day(3) }));
    await work(store, { verdict: 'pass', inkNames: ['Lagoon'] });
    await store.takeIn(
      arrival('Brass_band hoodie', { files: [jobFile('hoodie', 'b')], arrivedAt: day(4), customer: 'Village band' }),
    );
    const names = async (filter: JobFilter) => (await store.find(filter)).revisions.map(({ jobName }) => jobName);
    const [tee, poster, hoodie] = ['Midsummer tee', 'Midsummer poster 100%', 'Brass_band hoodie'];
    expect(await names({})).toEqual([hoodie, poster, tee]);
    expect(await names({ name: 'MIDSUMMER' })).toEqual([poster, tee]);
    expect(await names({ name: '%' })).toEqual([poster]);
    expect(await names({ name: 's_b' })).toEqual([hoodie]);
    expect(await names({ name: `x' OR '1'='1` })).toEqual([]);
    expect(await names({ customer: 'hohenweg' })).toEqual([tee]);
    expect(await names({ customer: 'HÖHENWEG' })).toEqual([tee]);
    expect(await names({ customer: 'band', name: 'midsummer' })).toEqual([poster]);
    expect(await names({ ink: 'lagoon' })).toEqual([tee]);
    expect(await names({ ink: 'lagoon', allRevisions: true })).toEqual([hoodie, tee]);
    expect(await names({ text: 'poster' })).toEqual([poster]);
    expect(await names({ text: 'BAND' })).toEqual([hoodie, poster]);
    expect(await names({ text: 'coral' })).toEqual([poster]);
    expect(await names({ text: 'lagoon', verdicts: ['pass'] })).toEqual([]);
    expect(await names({ arrivedFrom: day(2), arrivedBefore: day(4) })).toEqual([poster]);
    expect(await names({ verdicts: ['fail', 'needsReview'] })).toEqual([tee]);
    expect(await names({ verdicts: [] })).toEqual([]);
    expect(await names({ states: ['waiting'] })).toEqual([hoodie]);
    await store.decide({ revisionId: old.revisionId, kind: 'release', by: 'Mila', reason: '' });
    expect(await names({ standing: 'released' })).toEqual([]);
    expect(await names({ standing: 'released', allRevisions: true })).toEqual([hoodie]);
    expect(await names({ standing: 'none' })).toEqual([hoodie, poster, tee]);
  });

  it('gives long lists in pages, each entry once, also while jobs arrive', async () => {
    const { store } = await make();
    for (let index = 0; index < 25; index++) await store.takeIn(arrival(`job ${index}`));
    const seen: string[] = [];
    let after: string | undefined;
    do {
      const page = await store.find({ limit: 10, ...(after && { after }) });
      seen.push(...page.revisions.map(({ jobName }) => jobName));
      after = page.next ?? undefined;
      if (seen.length === 10) await store.takeIn(arrival('late'));
    } while (after !== undefined);
    expect(seen).toEqual(Array.from({ length: 25 }, (_, index) => `job ${24 - index}`));
    await expect(store.find({ after: '1; DROP TABLE jobs' })).rejects.toThrow('next');
  });

  it('counts by state and knows since when the oldest waits', async () => {
    const { store, database } = await make();
    expect((await store.counts()).oldestWaitingMs).toBeNull();
    await store.takeIn(arrival('tee'));
    await store.takeIn(arrival('poster'));
    await store.takeIn(arrival('hoodie'));
    await work(store, { verdict: 'pass' });
    await store.claim({ workerId: 'hand', leaseMs: 60_000 });
    await database.write((transaction) => transaction.change('UPDATE revisions SET taken_in_at = taken_in_at - 90000'));
    const counts = await store.counts();
    expect(counts.revisions).toEqual({ waiting: 1, working: 1, checked: 1, couldNotRun: 0, setAside: 0 });
    expect(counts.jobs).toBe(3);
    expect(counts.oldestWaitingMs).toBeGreaterThanOrEqual(90_000);
    expect(counts.oldestWaitingMs).toBeLessThan(100_000);
  });
}
