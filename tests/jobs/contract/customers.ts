import { expect, it } from 'vitest';
import type { JobStore } from '../../../src/jobs/jobStore.ts';
import { arrival, jobFile, result, type StoreUnderTest } from '../../support/jobStores.ts';

const dayMs = 86_400_000;

export function customers(make: () => Promise<StoreUnderTest>): void {
  async function checkedJob(store: JobStore, name = 'tee') {
    const { jobId, revisionId } = await store.takeIn(arrival(name));
    const { lease } = (await store.claim({ workerId: 'hand', leaseMs: 60_000 }))!;
    const artifacts = [{ kind: 'reportJson', name: 'report.json', sha256: 'e'.repeat(64), sizeBytes: 2 }] as const;
    await store.finish(lease, result({ artifacts }));
    return { jobId, revisionId, contentKey: (await store.revision(revisionId))!.contentKey };
  }
  const linkTo = (store: JobStore, jobId: number, hexDigit: string, validForMs = 14 * dayMs) =>
    store.makeCustomerLink({
      ...{ jobId, tokenSha256: hexDigit.repeat(64), by: 'Mila', validForMs, language: 'es', units: 'inch' },
    });

  it('keeps links by their hash alone, until they expire or are revoked', async () => {
    const { store, database } = await make();
    const { jobId } = await checkedJob(store);
    const made = await linkTo(store, jobId, '1');
    expect(made).toMatchObject({ jobId, madeBy: 'Mila', language: 'es', units: 'inch', revoked: null, isOpen: true });
    expect(made.expiresAt - made.madeAt).toBe(14 * dayMs);
    expect(await store.customerLinkBy('1'.repeat(64))).toEqual(made);
    expect(await store.customerLinkBy('2'.repeat(64))).toBeNull();
    await expect(linkTo(store, jobId, '1')).rejects.toThrow();
    await expect(linkTo(store, 99, '3')).rejects.toThrow('99');
    await expect(linkTo(store, jobId, 'token')).rejects.toThrow('hash');
    const second = await linkTo(store, jobId, '2');
    await database.write((transaction) =>
      transaction.change('UPDATE customer_links SET expires_at = ? WHERE id = ?', [Date.now() - 60_000, made.id]),
    );
    expect((await store.customerLinkBy('1'.repeat(64)))!.isOpen).toBe(false);
    expect(await store.revokeCustomerLink(second.id, 'Jon')).toBe(true);
    expect(await store.revokeCustomerLink(second.id, 'Jon')).toBe(false);
    expect(await store.revokeCustomerLink(99, 'Jon')).toBe(false);
    expect(await store.customerLinks(jobId)).toMatchObject([
      { id: second.id, isOpen: false, revoked: { by: 'Jon' } },
      { id: made.id, isOpen: false, revoked: null },
    ]);
    expect(await store.customerLinks(jobId + 1)).toEqual([]);
    expect((await store.customerLinks(null)).length).toBe(2);
    const history = (await store.job(jobId))!.history.slice(-3);
    expect(history.map(({ who, what }) => [who, what])).toEqual([
      ['Mila', 'linkMade'],
      ['Mila', 'linkMade'],
      ['Jon', 'linkRevoked'],
    ]);
    expect(JSON.stringify(history)).not.toContain('1'.repeat(64));
  });

  it('takes an answer once; a second one takes its place and both are kept', async () => {
    const { store } = await make();
    const { jobId, revisionId, contentKey } = await checkedJob(store);
    const { id: linkId } = await linkTo(store, jobId, '1');
    const answer = (kind: 'approved' | 'declined', remark = '', name = 'Ines') =>
      store.answerAsCustomer({ linkId, revisionId, contentKey, kind, name, remark });
    expect(await answer('approved')).toMatchObject({ outcome: 'taken', answer: { kind: 'approved', name: 'Ines' } });
    expect(await answer('approved', 'again', 'Jon')).toEqual({ outcome: 'sameAsBefore' });
    expect((await store.revision(revisionId))!.customerAnswer).toBe('approved');
    expect((await answer('declined', 'the blue is too dark')).outcome).toBe('taken');
    expect((await answer('declined', 'the blue is too dark')).outcome).toBe('sameAsBefore');
    const { customerAnswer, answers, standing } = (await store.revision(revisionId))!;
    expect([customerAnswer, standing]).toEqual(['declined', null]);
    expect(answers).toMatchObject([
      { kind: 'approved', remark: '', contentKey },
      { kind: 'declined', remark: 'the blue is too dark', contentKey },
    ]);
    const [first, second] = (await store.job(jobId))!.history.slice(-2);
    expect(first).toMatchObject({ who: 'Ines (customer)', what: 'customerApproved', revision: 1 });
    expect(second).toMatchObject({ who: 'Ines (customer)', what: 'customerDeclined' });
    expect(second.detail).toMatchObject({ reason: 'the blue is too dark', contentKey, inPlaceOf: answers[0].id });
    await expect(answer('approved', '', ' ')).rejects.toThrow('name');
  });

  it('holds an answer to the films that were seen', async () => {
    const { store } = await make();
    const { jobId, revisionId, contentKey } = await checkedJob(store);
    const other = await checkedJob(store, 'poster');
    const { id: linkId } = await linkTo(store, jobId, '1');
    const approve = async (more: object) =>
      (
        await store.answerAsCustomer({
          ...{ linkId, revisionId, contentKey, kind: 'approved', name: 'Ines', remark: '', ...more },
        })
      ).outcome;
    expect(await approve({ contentKey: 'f'.repeat(64) })).toBe('superseded');
    expect(await approve({ revisionId: other.revisionId, contentKey: other.contentKey })).toBe('superseded');
    expect(await approve({ linkId: 99 })).toBe('closed');
    expect(await approve({})).toBe('taken');
    const next = await store.takeIn(arrival('tee', { files: [jobFile('tee', 'b')] }));
    expect((await store.revision(next.revisionId))!.customerAnswer).toBeNull();
    expect(await approve({})).toBe('superseded');
    const ofNext = { revisionId: next.revisionId, contentKey: (await store.revision(next.revisionId))!.contentKey };
    expect(await approve(ofNext)).toBe('notChecked');
    const { lease } = (await store.claim({ workerId: 'hand', leaseMs: 60_000 }))!;
    await store.finish(lease, result());
    expect(await approve(ofNext)).toBe('taken');
    await store.revokeCustomerLink(linkId, 'Mila');
    expect(await approve({ ...ofNext, kind: 'declined' })).toBe('closed');
    expect((await store.job(jobId))!.revisions.map(({ customerAnswer }) => customerAnswer)).toEqual([
      'approved',
      'approved',
    ]);
  });

  it('finds the revision that a report is of', async () => {
    const { store } = await make();
    const { revisionId } = await checkedJob(store);
    expect(await store.revisionOfArtifact('e'.repeat(64))).toMatchObject({ revisionId, jobName: 'tee' });
    expect(await store.revisionOfArtifact('f'.repeat(64))).toBeNull();
  });

  it('forgets links and answers with the job they are of', async () => {
    const { store, database } = await make();
    const { jobId, revisionId, contentKey } = await checkedJob(store);
    const { id: linkId } = await linkTo(store, jobId, '1');
    await store.answerAsCustomer({ linkId, revisionId, contentKey, kind: 'approved', name: 'Ines', remark: '' });
    await database.write((transaction) => transaction.change('UPDATE revisions SET finished_at = 1'));
    await store.prune({ olderThanDays: 1, keepLatest: false }, 'Mila');
    expect(await store.job(jobId)).toBeNull();
    expect(await store.customerLinks(null)).toEqual([]);
  });
}
