import { expect, it } from 'vitest';
import { arrival, jobFile, type StoreUnderTest } from '../../support/jobStores.ts';

export function arrivals(make: () => Promise<StoreUnderTest>): void {
  it('takes the same content under the same name in once', async () => {
    const { store } = await make();
    const coral = jobFile('coral.tif', '1');
    const night = jobFile('night.tif', '2');
    const first = await store.takeIn(arrival('tee', { files: [coral, night] }));
    expect(first).toMatchObject({ kind: 'newJob', revision: 1, state: 'waiting' });
    const again = arrival('tee', { files: [night, { ...coral, storedPath: '/elsewhere/coral.tif' }] });
    expect(await store.takeIn(again)).toEqual({ ...first, kind: 'alreadyKnown' });
    expect((await store.counts()).revisions.waiting).toBe(1);
  });

  it('makes other content, another file name, or a ticket that came late the next revision of the job', async () => {
    const { store } = await make();
    const { jobId } = await store.takeIn(arrival('tee'));
    const changed = [jobFile('tee', 'b')];
    expect(await store.takeIn(arrival('tee', { files: changed }))).toMatchObject({
      kind: 'newRevision',
      jobId,
      revision: 2,
    });
    const renamed = [jobFile('tee v2', 'b')];
    expect(await store.takeIn(arrival('tee', { files: renamed }))).toMatchObject({ jobId, revision: 3 });
    const ticketFile = jobFile('ticket.yaml', 'c');
    const late = await store.takeIn(arrival('tee', { files: renamed, ticketFile }));
    expect(late).toMatchObject({ kind: 'newRevision', jobId, revision: 4 });
    const otherTicket = { ...ticketFile, sha256: 'd'.repeat(64) };
    expect(await store.takeIn(arrival('tee', { files: renamed, ticketFile: otherTicket }))).toMatchObject({
      revision: 5,
    });
    const job = (await store.job('tee'))!;
    expect(job.revisions.map(({ revision, isLatest }) => [revision, isLatest])).toEqual([
      [1, false],
      [2, false],
      [3, false],
      [4, false],
      [5, true],
    ]);
    expect(job.revisions[3]).toMatchObject({ files: renamed, ticketFile });
  });

  it('counts going back to the art before as a revision too', async () => {
    const { store } = await make();
    await store.takeIn(arrival('tee'));
    await store.takeIn(arrival('tee', { files: [jobFile('tee', 'b')] }));
    expect(await store.takeIn(arrival('tee'))).toMatchObject({ kind: 'newRevision', revision: 3 });
  });

  it('keeps the customer when a later arrival names none', async () => {
    const { store } = await make();
    await store.takeIn(arrival('tee', { customer: 'Village band' }));
    await store.takeIn(arrival('tee', { files: [jobFile('tee', 'b')] }));
    expect((await store.job('tee'))!.customer).toBe('Village band');
  });

  it('numbers revisions without a gap when the same job arrives at several doors at once', async () => {
    const { store } = await make();
    const digits = [...'0123456789ab'];
    const taken = await Promise.all(
      digits.map((digit) => store.takeIn(arrival('tee', { files: [jobFile('tee', digit)] }))),
    );
    expect(taken.map(({ revision }) => revision).sort((a, b) => a - b)).toEqual(digits.map((_, index) => index + 1));
    expect(new Set(taken.map(({ jobId }) => jobId)).size).toBe(1);
    const twice = await Promise.all([1, 2, 3, 4].map(() => store.takeIn(arrival('poster'))));
    expect(twice.filter(({ kind }) => kind === 'newJob').length).toBe(1);
    expect(twice.filter(({ kind }) => kind === 'alreadyKnown').length).toBe(3);
  });

  it('refuses an arrival without files or name', async () => {
    const { store } = await make();
    await expect(store.takeIn(arrival('tee', { files: [] }))).rejects.toThrow('has no files');
    await expect(store.takeIn(arrival('  '))).rejects.toThrow('needs a name');
    expect((await store.counts()).jobs).toBe(0);
  });

  it('keeps names exactly, whatever is in them', async () => {
    const { store } = await make();
    const odd = `it's "50 %" \\ 'DROP TABLE jobs;--' \u{1f3b8} Zürich\t?`;
    await store.takeIn(arrival(odd, { files: [jobFile(odd, 'a')] }));
    expect((await store.job(odd))!.revisions[0].files[0]).toEqual(jobFile(odd, 'a'));
  });

  it('writes down who brought what', async () => {
    const { store } = await make();
    await store.takeIn(arrival('tee', { by: 'front desk', ticketFile: jobFile('ticket.yaml', 'c') }));
    expect((await store.job('tee'))!.history).toMatchObject([
      {
        who: 'front desk',
        what: 'arrived',
        revision: 1,
        detail: {
          files: [{ name: 'tee', sizeBytes: 1_000, sha256: 'a'.repeat(64) }],
          ticket: { name: 'ticket.yaml', sha256: 'c'.repeat(64) },
        },
      },
    ]);
  });
}
