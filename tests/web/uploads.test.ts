import { connect } from 'node:net';
import { afterEach, describe, expect, it } from 'vitest';
import { mostPieceBytes, mostUploadBytes } from '../../web/shared/uploads.ts';
import { type TestReview, testReview } from './support/testReview.ts';

let review: TestReview;
afterEach(() => review.close());

const piece = (id: string, offset: number, bytes: Uint8Array) =>
  review.ask('PATCH', `/api/uploads/${id}`, bytes, {
    'content-type': 'application/octet-stream',
    'upload-offset': String(offset),
  });

describe('uploads', () => {
  it('go on where they were cut off', async () => {
    review = await testReview();
    const { id } = (await review.ask('POST', '/api/uploads', { name: 'tee/coral.svg', sizeBytes: 10 })).body;
    expect((await piece(id, 0, Buffer.from('01234'))).body.offset).toBe(5);
    expect((await piece(id, 0, Buffer.from('01234'))).status).toBe(409);
    expect((await piece(id, 9, Buffer.from('9'))).status).toBe(409);
    expect((await review.ask('POST', '/api/jobs', { uploads: [id], by: 'Mila' })).status).toBe(409);
    expect((await review.ask('GET', `/api/uploads/${id}`)).body.offset).toBe(5);
    expect((await piece(id, 5, Buffer.from('567890'))).status).toBe(413);
    expect((await piece(id, 5, Buffer.from('56789'))).body.offset).toBe(10);
    const made = await review.ask('POST', '/api/jobs', { uploads: [id], by: 'Mila', customer: 'Village band' });
    expect(made.body).toMatchObject({ kind: 'newJob', job: { jobName: 'tee', customer: 'Village band', revision: 1 } });
    const [file] = (await review.store.jobs.job('tee'))!.revisions[0].files;
    expect(file.name).toBe('coral.svg');
    expect(Buffer.from(await review.store.blobs.read(file.sha256)).toString()).toBe('0123456789');
    expect(await review.store.jobs.blobsInUse()).toEqual([file.sha256]);
    expect((await review.ask('GET', `/api/uploads/${id}`)).status).toBe(404);
  });

  it('are refused when they are too large, in all or in a piece', async () => {
    review = await testReview();
    const begin = (sizeBytes: number) => review.ask('POST', '/api/uploads', { name: 'a.svg', sizeBytes });
    expect((await begin(mostUploadBytes + 1)).status).toBe(400);
    const { id } = (await begin(mostPieceBytes + 1)).body;
    expect((await piece(id, 0, new Uint8Array(mostPieceBytes + 1))).status).toBe(413);
    expect((await review.ask('GET', `/api/uploads/${id}`)).body.offset).toBe(0);
    expect((await review.ask('POST', '/api/uploads', { name: 'a'.repeat(2_000_000), sizeBytes: 1 })).status).toBe(413);
  });

  it('are refused when too many have begun', async () => {
    review = await testReview();
    const statuses: number[] = [];
    for (let n = 0; n < 201; n++)
      statuses.push((await review.ask('POST', '/api/uploads', { name: `${n}.svg`, sizeBytes: 1 })).status);
    expect(statuses.slice(0, 200).every((status) => status === 201)).toBe(true);
    expect(statuses[200]).toBe(429);
  }, 300_000);

  it('that trickle in are cut off, and the server goes on', async () => {
    review = await testReview(null, { requestTimeoutMs: 400, hosts: new Set(['slow']) });
    await review.server.listen({ host: '127.0.0.1', port: 0 });
    const { port } = review.server.server.address() as { port: number };
    const socket = connect(port, '127.0.0.1');
    const started = performance.now();
    let said = '';
    socket.on('data', (data) => {
      said += data;
    });
    socket.on('error', () => undefined);
    socket.write('POST /api/uploads HTTP/1.1\r\nHost: slow\r\nx-plateglass: 1\r\ncontent-type: application/json\r\n');
    socket.write('content-length: 1000\r\n\r\n{');
    const drip = setInterval(() => socket.write(' '), 50);
    await new Promise<void>((resolve) => socket.once('close', () => resolve()));
    clearInterval(drip);
    expect(performance.now() - started).toBeLessThan(20_000);
    expect(said).toMatch(/^(HTTP\/1.1 408 |$)/);
    expect((await review.ask('GET', '/api/jobs', undefined, { host: 'slow' })).status).toBe(200);
  });

  it('make no job without a film, or of two tickets', async () => {
    review = await testReview();
    const ticket = await review.upload('ticket.yaml', 'job: tee');
    const other = await review.upload('other.yaml', 'job: tee');
    const another = await review.upload('third.yaml', 'job: tee');
    const film = await review.upload('coral.svg', '<svg/>');
    const make = (...uploads: string[]) => review.ask('POST', '/api/jobs', { uploads, by: 'Mila' });
    expect((await make(ticket)).status).toBe(400);
    expect((await make(film, film)).status).toBe(400);
    expect((await make(film, other, another)).status).toBe(400);
    expect((await make(film, other, ticket)).body).toMatchObject({ kind: 'newJob' });
    expect((await review.store.jobs.job('coral.svg'))!.revisions[0].ticketFile?.name).toBe('ticket.yaml');
  });
});
