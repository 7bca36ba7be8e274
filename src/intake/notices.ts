import { createHmac } from 'node:crypto';
import type { EffectClaim, NewEffect } from '../jobs/jobTypes.ts';
import { verdictWords } from '../report/words.ts';
import type { EndedJob } from './jobWorker.ts';
import { runNoticeCommand } from './noticeCommand.ts';

/** Who is told when a job was checked. */
export interface NoticeTargets {
  /** Given to the shell; what happened comes on standard input as JSON. */
  readonly command: string | null;
  readonly webhook: { readonly url: string; readonly secret: string | null } | null;
}

export const noticeKinds = ['notice.command', 'notice.webhook'] as const;

const commandLimitMs = 60_000;
const webhookLimitMs = 20_000;

/** What is to be told of a job that ended, to be kept with its result: the same end is never added twice. */
export function noticesOf(targets: NoticeTargets, ended: EndedJob): NewEffect[] {
  const wanted = [targets.command === null ? null : noticeKinds[0], targets.webhook === null ? null : noticeKinds[1]];
  return wanted
    .filter((kind) => kind !== null)
    .map((kind) => ({
      key: `${kind}:${ended.revisionId}:${ended.at}`,
      kind,
      revisionId: ended.revisionId,
      payload: {
        event: 'checked',
        job: ended.jobName,
        revision: ended.revision,
        verdict: ended.verdict,
        words: verdictWords[ended.verdict],
        reason: ended.reason,
        folder: ended.folder,
        at: new Date(ended.at).toISOString(),
      },
    }));
}

/**
 * Tells one target once. Throws when it did not take it; whether a webhook did before an error on the way is not known.
 * `toldFolder` is where commands leave word that they ended.
 */
export function deliver(targets: NoticeTargets, claim: EffectClaim, toldFolder: string, date: Date): Promise<void> {
  const body = JSON.stringify(claim.payload);
  if (claim.kind === noticeKinds[0]) {
    if (targets.command === null) throw new Error('no command is set here');
    return runNoticeCommand(toldFolder, targets.command, claim.key, body, commandLimitMs);
  }
  if (targets.webhook === null) throw new Error('no webhook is set here');
  return post(targets.webhook.url, targets.webhook.secret, claim.key, body, date);
}

/** The signature is the HMAC with SHA-256 of timestamp, a dot and the body (RFC 2104), in hexadecimal. */
export function signatureOf(secret: string, timestamp: string, body: string): string {
  return `sha256=${createHmac('sha256', secret).update(`${timestamp}.${body}`).digest('hex')}`;
}

async function post(url: string, secret: string | null, key: string, body: string, date: Date): Promise<void> {
  const timestamp = String(Math.floor(date.getTime() / 1000));
  const response = await fetch(url, {
    method: 'POST',
    headers: {
      'content-type': 'application/json',
      'idempotency-key': key,
      'plateglass-timestamp': timestamp,
      ...(secret === null ? {} : { 'plateglass-signature': signatureOf(secret, timestamp, body) }),
    },
    body,
    // Where a signed notice goes is for the shop to say, not for whoever answers.
    redirect: 'error',
    signal: AbortSignal.timeout(webhookLimitMs),
  });
  await response.body?.cancel();
  if (!response.ok) throw new Error(`the webhook answered ${response.status}`);
}
