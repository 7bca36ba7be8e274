import type { JobStore } from '../jobs/jobStore.ts';
import type { EffectClaim, Told } from '../jobs/jobTypes.ts';
import { mailKind, type QueuedMail, sentMail, toldOf } from './outbox.ts';
import type { Envelope, SendEnd } from './smtp.ts';

export interface PostTools {
  readonly store: JobStore;
  /** Unlike that of any other process. */
  readonly workerId: string;
  /** As `sendBySmtp`, or what stands in for it in test mode. */
  readonly send: (
    key: string,
    envelope: Envelope,
    mail: Uint8Array,
    onBegin: () => Promise<boolean>,
  ) => Promise<SendEnd>;
  readonly say: (line: string) => void;
}

export type Posted = 'sent' | 'later' | 'givenUp' | 'nothing';

const leaseMs = 600_000;
const firstPauseMs = 60_000;
const longestPauseMs = 4 * 3_600_000;
const mostTries = 24;

/**
 * Sends the next mail whose turn it is. None goes out twice: one of which nobody knows whether it went out is given up,
 * and said. What surely did not go out is tried again, ever more rarely, for about three days.
 */
export async function postNext({ store, workerId, send, say }: PostTools): Promise<Posted> {
  const claim = await store.claimEffect({ workerId, leaseMs, kinds: [mailKind] });
  if (claim === null) return 'nothing';
  const queued = claim.payload as QueuedMail;
  const { envelope, mailBase64 } = queued;
  const told = (what: string, more: Told['detail'] = {}): Told => ({
    ...{ who: workerId, what },
    detail: { ...toldOf(queued), ...more },
  });
  const giveUp = async (reason: string): Promise<Posted> => {
    await store.effectFailed(claim, reason, null, told('mailGivenUp', { reason }));
    say(`The mail to ${envelope.to} ${reason}`);
    return 'givenUp';
  };
  if (claim.begunBefore) return giveUp(notKnown('the program ended while it was sent'));
  const mail = Buffer.from(mailBase64, 'base64');
  const { kind, said } = await send(claim.key, envelope, mail, () => store.effectBegun(claim));
  if (kind === 'sent') {
    await store.effectDone(claim, told('mailSent', { said }), sentMail(queued));
    say(`The mail to ${envelope.to} was sent.`);
    return 'sent';
  }
  if (kind === 'unknown') return giveUp(notKnown(said));
  if (kind === 'refused') return giveUp(`was refused for good (${said}).`);
  return tryLater(store, claim, envelope, said, say, giveUp);
}

async function tryLater(
  store: JobStore,
  claim: EffectClaim,
  envelope: Envelope,
  said: string,
  say: (line: string) => void,
  giveUp: (reason: string) => Promise<Posted>,
): Promise<Posted> {
  const tries = claim.failuresBefore + 1;
  if (tries >= mostTries) return giveUp(`could not be sent in ${tries} tries (${said}).`);
  await store.effectFailed(claim, said, Math.min(longestPauseMs, firstPauseMs * 2 ** (tries - 1)));
  if (tries === 1) say(`The mail to ${envelope.to} could not be sent yet (${said}). It is kept and tried again.`);
  return 'later';
}

function notKnown(why: string): string {
  return `may or may not have been sent (${why}). It is not sent again by itself: look at the mail server, and send it with --again if it did not go out.`;
}
