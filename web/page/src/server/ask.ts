import type { RefusedRequest } from '../../../shared/jobs.ts';

/** A refusal of the server, in words for the person at the page. */
export class RefusedError extends Error {
  readonly status: number;
  readonly code: string;
  readonly remedy: string;
  readonly body: unknown;

  constructor(status: number, body: Partial<RefusedRequest> | null) {
    super(body?.error?.message ?? `The server answered ${status}.`);
    this.status = status;
    this.code = body?.error?.code ?? 'no-answer';
    this.remedy = body?.error?.remedy ?? '';
    this.body = body;
  }
}

export function ask<Answer>(path: string, signal?: AbortSignal): Promise<Answer> {
  return answered(fetch(path, { signal }));
}

/** Changes something; the header tells the server that its own page asks. */
export function change<Answer>(method: 'POST' | 'PUT' | 'DELETE', path: string, body?: unknown): Promise<Answer> {
  return answered(
    fetch(path, {
      method,
      headers: { 'x-plateglass': '1', ...(body === undefined ? {} : { 'content-type': 'application/json' }) },
      body: body === undefined ? undefined : JSON.stringify(body),
    }),
  );
}

/** Told when the server no longer knows who sits here. */
export const signedOut = 'plateglass-signed-out';

export async function answered<Answer>(request: Promise<Response>): Promise<Answer> {
  const response = await request;
  if (response.ok) return (await response.json()) as Answer;
  if (response.status === 401 && !response.url.endsWith('/api/session')) dispatchEvent(new Event(signedOut));
  const body = (await response.json().catch(() => null)) as Partial<RefusedRequest> | null;
  throw new RefusedError(response.status, body);
}
