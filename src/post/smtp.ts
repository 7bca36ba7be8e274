import { Readable } from 'node:stream';
import SmtpConnection from 'nodemailer/lib/smtp-connection';

export interface SmtpServer {
  readonly host: string;
  readonly port: number;
  /** tls: from the first byte. starttls: before anything is said of the mail, or not at all. Never without. */
  readonly security: 'tls' | 'starttls';
  readonly user: string | null;
  readonly password: string | null;
  /** Certificates of authorities to trust besides those everybody does, PEM. */
  readonly ca?: string;
  /** How long it may be silent once it is connected: 120 s. */
  readonly silenceMs?: number;
}

export interface Envelope {
  readonly from: string;
  readonly to: string;
}

/**
 * How sending ended. sent: the server has taken it. refused: it will never take it. later: it has surely not taken it,
 * and may another time: no server takes a mail whose end it has not seen (RFC 5321, 4.1.1.4). unknown: the connection
 * broke off, or the server fell silent, when all of the mail may have gone out and before the server's answer.
 */
export interface SendEnd {
  readonly kind: 'sent' | 'refused' | 'later' | 'unknown';
  readonly said: string;
}

const connectMs = 20_000;
const usualSilenceMs = 120_000;
const pieceBytes = 16_384;

interface SmtpError extends Error {
  readonly responseCode?: number;
  readonly response?: string;
}

/**
 * Sends one mail to one address. `onBegin` is called when the server is ready for the mail and before a byte of it goes
 * out; when it answers false nothing goes out.
 */
export async function sendBySmtp(
  server: SmtpServer,
  envelope: Envelope,
  mail: Uint8Array,
  onBegin: () => Promise<boolean>,
): Promise<SendEnd> {
  const { host, port, security, user, password, ca, silenceMs = usualSilenceMs } = server;
  const connection = new SmtpConnection({
    ...{ host, port },
    secure: security === 'tls',
    requireTLS: security === 'starttls',
    tls: { minVersion: 'TLSv1.2', servername: host, ...(ca === undefined ? {} : { ca }) },
    ...{ connectionTimeout: connectMs, greetingTimeout: Math.min(connectMs, silenceMs), socketTimeout: silenceMs },
    disableFileAccess: true,
  } as ConstructorParameters<typeof SmtpConnection>[0]);
  const broken = new Promise<never>((_, reject) => connection.once('error', reject));
  broken.catch(() => undefined);
  const step = (work: (done: (error?: Error | null) => void) => void) =>
    Promise.race([
      broken,
      new Promise<void>((resolve, reject) => work((error) => (error ? reject(error) : resolve()))),
    ]);
  let signedIn = false;
  let isAllOut = false;
  let answer = '';
  try {
    await step((done) => connection.connect(done));
    if (user !== null)
      await step((done) => connection.login({ credentials: { user, pass: password ?? '' } } as never, done));
    signedIn = true;
    const body = Readable.from(
      (async function* () {
        if (!(await onBegin())) throw new Error('another process has taken the mail over');
        // The next piece is asked for when there is room for it; the end of the mail is written after the last.
        for (let at = 0; at < mail.length; at += pieceBytes) yield mail.subarray(at, at + pieceBytes);
        isAllOut = true;
      })(),
    );
    await step((done) =>
      connection.send({ from: envelope.from, to: [envelope.to] }, body, (error, info) => {
        answer = info?.response ?? '';
        done(error);
      }),
    );
    connection.quit();
    return { kind: 'sent', said: answer };
  } catch (error) {
    connection.close();
    return endOf(error as SmtpError, signedIn, isAllOut);
  }
}

function endOf({ responseCode, response, message }: SmtpError, signedIn: boolean, isAllOut: boolean): SendEnd {
  const said = (response ?? message).split('\n')[0];
  if (responseCode !== undefined && responseCode >= 400) {
    // What is said before the mail is spoken of, a wrong password, say, is for the shop to put right.
    const isForGood = responseCode >= 500 && responseCode !== 530 && signedIn;
    return { kind: isForGood ? 'refused' : 'later', said };
  }
  return { kind: isAllOut ? 'unknown' : 'later', said };
}
