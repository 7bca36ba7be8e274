import { setTimeout as pause } from 'node:timers/promises';
import { expect, it } from 'vitest';
import { arrival, jobFile, result, type StoreUnderTest } from '../../support/jobStores.ts';

const longMs = 60_000;
/** As if everybody who holds something had stopped answering long ago. */
async function runOut({ database }: StoreUnderTest): Promise<void> {
  await database.write(async (transaction) => {
    await transaction.change('UPDATE revisions SET move_lease_until = 0 WHERE moving_to IS NOT NULL');
    await transaction.change(`UPDATE revisions SET lease_until = 0 WHERE state = 'working'`);
    await transaction.change(`UPDATE effects SET lease_until = 0 WHERE state = 'working'`);
  });
}
const hand = { workerId: 'hand', leaseMs: longMs };
const other = { workerId: 'other', leaseMs: longMs };

export function movesAndEffects(make: () => Promise<StoreUnderTest>): void {
  it('has one move of a revision pending at most, held by one hand', async () => {
    const { store } = await make();
    const { revisionId } = await store.takeIn(arrival('tee', { placeAt: '/spool/1' }));
    const move = (await store.planMove(revisionId, '/passed/tee', hand))!;
    expect(move).toMatchObject({ revisionId, jobName: 'tee', revision: 1, from: '/spool/1', to: '/passed/tee' });
    expect(await store.planMove(revisionId, '/failed/tee', other)).toBeNull();
    expect(await store.claimMove(other)).toBeNull();
    // The same hand after a restart goes on with it, and what it held before counts no more.
    const again = (await store.claimMove({ ...hand, revisionId }))!;
    expect(await store.endMove(move, 'done')).toBe(false);
    expect(await store.endMove(again, 'done')).toBe(true);
    expect(await store.endMove(again, 'done')).toBe(true);
    expect((await store.revision(revisionId))!.place).toEqual({ at: '/passed/tee', movingTo: null });
    expect(await store.claimMove(hand)).toBeNull();
  });

  it('lets another hand finish or undo a move whose hand was lost', async () => {
    const made = await make();
    const { store } = made;
    const { revisionId } = await store.takeIn(arrival('tee', { placeAt: '/spool/1' }));
    const lost = (await store.planMove(revisionId, '/passed/tee', hand))!;
    await runOut(made);
    const taken = (await store.claimMove(other))!;
    expect(taken).toMatchObject({ from: '/spool/1', to: '/passed/tee', attempt: 2 });
    expect(await store.endMove(lost, 'done')).toBe(false);
    expect(await store.endMove(taken, 'undone')).toBe(true);
    expect((await store.revision(revisionId))!.place).toEqual({ at: '/spool/1', movingTo: null });
    expect((await store.job('tee'))!.history.map(({ what }) => what)).toEqual(['arrived', 'moveUndone']);
  });

  it('lets the paths of originals follow, in every revision that refers to them', async () => {
    const { store } = await make();
    const files = [
      jobFile('a%_.tif', '1', { storedPath: '/spool/1/a%_.tif' }),
      jobFile('films/b.tif', '2', { storedPath: '/spool/1/films/b.tif' }),
      jobFile('c.tif', '3', { storedPath: '/spool/10/c.tif' }),
    ];
    const first = await store.takeIn(arrival('tee', { files, placeAt: '/spool/1' }));
    const ticketFile = jobFile('ticket.yaml', 'c', { storedPath: '/spool/2/ticket.yaml' });
    const late = await store.takeIn(arrival('tee', { files, ticketFile, placeAt: '/spool/1' }));
    const move = (await store.planMove(late.revisionId, '/passed/Müller & Co/tee', hand))!;
    await store.endMove(move, 'done');
    const paths = ['/passed/Müller & Co/tee/a%_.tif', '/passed/Müller & Co/tee/films/b.tif', '/spool/10/c.tif'];
    for (const { revisionId } of [first, late]) {
      const revision = (await store.revision(revisionId))!;
      expect(revision.files.map(({ storedPath }) => storedPath)).toEqual(paths);
      expect(revision.place.at).toBe('/passed/Müller & Co/tee');
    }
    expect((await store.revision(late.revisionId))!.ticketFile!.storedPath).toBe('/spool/2/ticket.yaml');
  });

  it('adds an effect once, however often it is asked', async () => {
    const { store } = await make();
    const effect = { key: 'webhook:1', kind: 'webhook', payload: { text: 'ready “to film”' } };
    const added = await Promise.all([1, 2, 3].map(() => store.addEffects([effect])));
    expect(added.sort()).toEqual([0, 0, 1]);
    expect(await store.claimEffect({ ...hand, kinds: ['mail'] })).toBeNull();
    const claim = (await store.claimEffect({ ...hand, kinds: ['webhook', 'mail'] }))!;
    expect(claim).toMatchObject({ ...effect, attempt: 1, failuresBefore: 0, revisionId: null });
    expect(await store.claimEffect(other)).toBeNull();
    expect(await store.effectDone(claim)).toBe(true);
    expect(await store.effectDone(claim)).toBe(true);
    expect(await store.addEffects([effect])).toBe(0);
    expect((await store.counts()).effects).toEqual({ waiting: 0, working: 0, done: 1, setAside: 0 });
  });

  it('gives an effect whose hand was lost to another, and fences the first', async () => {
    const made = await make();
    const { store } = made;
    await store.addEffects([{ key: 'mail:1', kind: 'mail', payload: null }]);
    const lost = (await store.claimEffect(hand))!;
    await runOut(made);
    const taken = (await store.claimEffect(other))!;
    expect(taken).toMatchObject({ attempt: 2, failuresBefore: 1 });
    expect(await store.effectDone(lost)).toBe(false);
    expect(await store.effectFailed(lost, 'late', 0)).toBe(false);
    expect(await store.effectFailed(taken, 'no answer', 60_000)).toBe(true);
    expect(await store.claimEffect(other)).toBeNull();
  });

  it('knows whether a hand that was lost had begun, and counts what is open by its kind', async () => {
    const made = await make();
    const { store } = made;
    await store.addEffects(['mail:1', 'mail:2'].map((key) => ({ key, kind: 'mail', payload: null })));
    const first = (await store.claimEffect(hand))!;
    expect(first.begunBefore).toBe(false);
    await runOut(made);
    const second = (await store.claimEffect(other))!;
    expect(second).toMatchObject({ key: 'mail:1', begunBefore: false });
    expect(await store.effectBegun(first)).toBe(false);
    expect(await store.effectBegun(second)).toBe(true);
    await runOut(made);
    const third = (await store.claimEffect(hand))!;
    expect(third).toMatchObject({ key: 'mail:1', begunBefore: true });
    expect(await store.effectBegun(third)).toBe(true);
    // Who says how it went has settled it.
    expect(await store.effectFailed(third, 'no answer', 0)).toBe(true);
    await pause(20);
    expect(await store.claimEffect(other)).toMatchObject({ key: 'mail:1', begunBefore: false });
    expect((await store.counts()).openEffects).toEqual({ mail: 2 });
  });

  it('tells the history of a revision what became of an effect, once, and gives its effects back', async () => {
    const made = await make();
    const { store } = made;
    const { revisionId, jobId } = await store.takeIn(arrival('tee'));
    const told = (what: string, to: string) => ({ who: 'Mila', what, detail: { to } });
    const effect = { key: 'mail:1', kind: 'mail', payload: { n: 1 }, revisionId, told: told('mailQueued', 'a') };
    await Promise.all([store.addEffects([effect]), store.addEffects([effect])]);
    await store.addEffects([{ ...effect, key: 'mail:2', told: told('mailQueued', 'b') }]);
    await store.addEffects([{ key: 'mail:3', kind: 'mail', payload: null, told: told('mailQueued', 'of no job') }]);
    const first = (await store.claimEffect({ ...hand, kinds: ['mail'] }))!;
    expect(await store.effectDone(first, told('mailSent', 'a'))).toBe(true);
    expect(await store.effectDone(first, told('mailSent', 'a'))).toBe(true);
    const second = (await store.claimEffect({ ...hand, kinds: ['mail'] }))!;
    await store.effectFailed(second, 'no answer', null, told('mailGivenUp', 'b'));
    expect(await store.effectFailed(second, 'no answer', null, told('mailGivenUp', 'b'))).toBe(false);
    const { history } = (await store.job(jobId))!;
    const lines = history.filter(({ what }) => what.startsWith('mail'));
    expect(lines.map(({ what, who, revision, detail }) => [what, who, revision, detail.to])).toEqual([
      ['mailQueued', 'Mila', 1, 'a'],
      ['mailQueued', 'Mila', 1, 'b'],
      ['mailSent', 'Mila', 1, 'a'],
      ['mailGivenUp', 'Mila', 1, 'b'],
    ]);
    expect(await store.effectsOf(revisionId, 'mail')).toMatchObject([
      { key: 'mail:1', payload: { n: 1 }, state: 'done', reason: null, doneAt: expect.any(Number) },
      { key: 'mail:2', state: 'setAside', reason: 'no answer', doneAt: null },
    ]);
    expect(await store.effectsOf(revisionId, 'webhook')).toEqual([]);
  });

  it('tries an effect again after a pause and sets it aside when told', async () => {
    const { store } = await make();
    await store.addEffects([{ key: 'mail:1', kind: 'mail', payload: null }]);
    const first = (await store.claimEffect(hand))!;
    expect(await store.effectFailed(first, 'no answer', 700)).toBe(true);
    expect(await store.claimEffect(hand)).toBeNull();
    await pause(800);
    const second = (await store.claimEffect(hand))!;
    expect(second.failuresBefore).toBe(1);
    expect(await store.effectFailed(second, 'address unknown', null)).toBe(true);
    expect(await store.claimEffect(hand)).toBeNull();
    expect((await store.counts()).effects.setAside).toBe(1);
  });

  it('keeps effects only of arrivals and results that count', async () => {
    const made = await make();
    const { store } = made;
    const effects = [{ key: 'arrived:tee', kind: 'webhook', payload: 1 }];
    const { revisionId } = await store.takeIn(arrival('tee', { effects }));
    await store.takeIn(arrival('tee', { effects: [{ key: 'arrived again', kind: 'webhook', payload: 2 }] }));
    const stale = (await store.claim({ workerId: 'one', leaseMs: longMs }))!;
    await runOut(made);
    await store.claim(other);
    await store.finish(stale.lease, result({ effects: [{ key: 'stale', kind: 'webhook', payload: 3 }] }));
    expect((await store.counts()).effects.waiting).toBe(1);
    expect(await store.claimEffect(hand)).toMatchObject({ key: 'arrived:tee', revisionId });
  });
}
