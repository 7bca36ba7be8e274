import { expect, it } from 'vitest';
import type { JobStore } from '../../../src/jobs/jobStore.ts';
import { arrival, jobFile, result, type StoreUnderTest } from '../../support/jobStores.ts';

export function pruning(make: () => Promise<StoreUnderTest>): void {
  const artifact = (digit: string) =>
    ({ kind: 'reportJson', name: 'report.json', sha256: digit.repeat(64), sizeBytes: 10 }) as const;

  async function check(store: JobStore, jobName: string, digit: string) {
    const { revisionId } = await store.takeIn(arrival(jobName, { files: [jobFile(jobName, digit)] }));
    const { lease } = (await store.claim({ workerId: 'hand', leaseMs: 60_000 }))!;
    await store.finish(lease, result({ artifacts: [artifact(digit)], inkNames: ['Lagoon'] }));
    return revisionId;
  }

  async function age({ database }: StoreUnderTest, days: number, revisionId: number) {
    await database.write((transaction) =>
      transaction.change('UPDATE revisions SET finished_at = finished_at - ? WHERE id = ?', [
        days * 86_400_000,
        revisionId,
      ]),
    );
  }

  it('removes what is old, but never the latest, what is released, or what is not finished', async () => {
    const made = await make();
    const { store } = made;
    const first = await check(store, 'tee', '1');
    const released = await check(store, 'tee', '2');
    const young = await check(store, 'tee', '3');
    const latest = await check(store, 'tee', '4');
    const waiting = await store.takeIn(arrival('poster'));
    await store.takeIn(arrival('poster', { files: [jobFile('poster', 'b')] }));
    await store.claim({ workerId: 'hand', leaseMs: 60_000 });
    await store.decide({ revisionId: released, kind: 'release', by: 'Mila', reason: '' });
    for (const id of [first, released, latest]) await age(made, 40, id);
    await age(made, 20, young);
    const rule = { olderThanDays: 30 };
    const expected = { revisions: [{ jobName: 'tee', revision: 1, verdict: 'pass' }], jobsGone: 0 };
    expect(await store.prune({ ...rule, tryOut: true }, 'Mila')).toEqual(expected);
    expect(await store.revision(first)).not.toBeNull();
    expect(await store.prune(rule, 'Mila')).toEqual(expected);
    expect(await store.revision(first)).toBeNull();
    expect((await store.job('tee'))!.revisions.map(({ revision }) => revision)).toEqual([2, 3, 4]);
    expect((await store.job('tee'))!.history.at(-1)).toMatchObject({ who: 'Mila', what: 'pruned', revision: 1 });
    expect(await store.blobsInUse()).toEqual(['2', '3', '4'].map((digit) => digit.repeat(64)));
    expect((await store.counts()).revisions).toMatchObject({ waiting: 1, working: 1, checked: 3 });
    expect(await store.revision(waiting.revisionId)).not.toBeNull();
  });

  it('keeps what is being moved or has an effect to come', async () => {
    const made = await make();
    const { store } = made;
    const moving = await check(store, 'tee', '1');
    const toTell = await check(store, 'tee', '2');
    await check(store, 'tee', '3');
    await store.planMove(moving, '/passed/tee', { workerId: 'hand', leaseMs: 60_000 });
    await store.addEffects([{ key: 'k', kind: 'webhook', payload: 1, revisionId: toTell }]);
    for (const id of [moving, toTell]) await age(made, 40, id);
    expect((await store.prune({ olderThanDays: 30 }, 'Mila')).revisions).toEqual([]);
    await store.effectDone((await store.claimEffect({ workerId: 'hand', leaseMs: 60_000 }))!);
    expect((await store.prune({ olderThanDays: 30 }, 'Mila')).revisions).toMatchObject([{ revision: 2 }]);
  });

  it('removes whole jobs when the latest need not stay, but leaves none without its latest', async () => {
    const made = await make();
    const { store } = made;
    const gone = [await check(store, 'tee', '1'), await check(store, 'tee', '2')];
    const released = await check(store, 'poster', '3');
    const latest = await check(store, 'poster', '4');
    await store.decide({ revisionId: released, kind: 'release', by: 'Mila', reason: '' });
    for (const id of [...gone, released, latest]) await age(made, 40, id);
    const rule = { olderThanDays: 30, keepLatest: false };
    expect(await store.prune({ ...rule, tryOut: true }, 'Mila')).toMatchObject({ jobsGone: 1 });
    const pruned = await store.prune(rule, 'Mila');
    expect(pruned.jobsGone).toBe(1);
    expect(pruned.revisions.map(({ jobName }) => jobName)).toEqual(['tee', 'tee']);
    expect(await store.job('tee')).toBeNull();
    expect((await store.job('poster'))!.revisions.length).toBe(2);
    // The name is free again.
    expect(await store.takeIn(arrival('tee'))).toMatchObject({ kind: 'newJob', revision: 1 });
    await expect(store.prune({ olderThanDays: Number.NaN }, 'Mila')).rejects.toThrow('days');
  });
}
