import type { FastifyInstance, FastifyReply, FastifyRequest } from 'fastify';
import { z } from 'zod';
import type { Role, SessionFacts } from '../shared/session.ts';
import { type Accounts, roles } from './accounts.ts';
import { asked } from './asked.ts';
import { Refused } from './refused.ts';
import { passphraseMark, Sessions } from './sessions.ts';
import { SlowDown } from './slowDown.ts';

/** How a server knows who asks. */
export interface AccessOptions {
  readonly accounts: Accounts;
  /** Browsers reach the server by https, directly or through a proxy. */
  readonly secure: boolean;
  /** Keeps who is signed in over a restart; null: until the server ends. */
  readonly sessionFile: string | null;
}

interface Person {
  readonly name: string;
  readonly role: Role;
}

declare module 'fastify' {
  interface FastifyRequest {
    /** Null before sign-in, and on a server that asks for no account. */
    person: Person | null;
  }
  interface FastifyContextConfig {
    /** Least role for the route; without it reading needs "look", everything else "decide". Null: nobody is asked. */
    role?: Role | null;
  }
}

const signIn = z.strictObject({ name: z.string().min(1).max(80), passphrase: z.string().min(1).max(1_000) });
const quarterMs = 15 * 60 * 1000;
/** Hashes at once: each takes 64 MB. */
const mostAtOnce = 2;

/** Asks for a sign-in on every address below /api/ but the session's own, also on those that are not there. */
export function guardAccess(server: FastifyInstance, access: AccessOptions | null): void {
  const sessions = new Sessions(access?.sessionFile ?? null);
  const ofAddress = new SlowDown(20, quarterMs);
  const ofName = new SlowDown(10, quarterMs);
  const cookieName = access?.secure ? '__Host-plateglass' : 'plateglass';
  let hashing = 0;

  server.decorateRequest('person', null);
  server.addHook('onRequest', async (request) => {
    if (access === null) return;
    request.person = await personOf(access.accounts, sessions, keyOf(request, cookieName));
    if (!request.url.startsWith('/api/')) return;
    const { role } = request.routeOptions.config;
    if (role === null) return;
    if (request.person === null)
      throw new Refused(401, 'not-signed-in', 'Nobody is signed in here.', 'Sign in with your name and passphrase.');
    const reads = request.method === 'GET' || request.method === 'HEAD';
    if (!mayDo(request.person.role, role ?? (reads ? 'look' : 'decide')))
      throw new Refused(
        403,
        'not-yours',
        'Your account may not do this.',
        'Ask the one who administers the shop’s accounts.',
      );
  });

  const facts = ({ person }: Pick<FastifyRequest, 'person'>): SessionFacts =>
    access === null
      ? { signedIn: true, name: null, role: 'administer', asksForAccount: false }
      : { signedIn: person !== null, name: person?.name ?? null, role: person?.role ?? null, asksForAccount: true };
  const setCookie = (reply: FastifyReply, value: string, ages: string) =>
    reply.header(
      'set-cookie',
      `${cookieName}=${value}; Path=/; HttpOnly; SameSite=Strict${access?.secure ? '; Secure' : ''}${ages}`,
    );

  server.get('/api/session', { config: { role: null } }, async (request) => facts(request));

  server.post('/api/session', { config: { role: null } }, async (request, reply) => {
    if (access === null) return facts(request);
    const { name, passphrase } = asked(signIn, request.body);
    const tooMany = () =>
      new Refused(429, 'too-many-tries', 'There were too many tries to sign in.', 'Wait a quarter of an hour.');
    if (!ofAddress.mayTry(request.ip) || !ofName.mayTry(name)) throw tooMany();
    if (hashing >= mostAtOnce)
      throw new Refused(429, 'busy', 'Others are signing in just now.', 'Try again in a moment.');
    hashing += 1;
    const account = await access.accounts.verified(name, passphrase).finally(() => {
      hashing -= 1;
    });
    if (account === null)
      throw new Refused(401, 'wrong-sign-in', 'Name and passphrase do not fit.', 'Look at both and try again.');
    ofName.forget(name);
    // A key that was there before the sign-in is worth nothing afterwards.
    await sessions.end(keyOf(request, cookieName));
    setCookie(reply, await sessions.begin(account), '');
    return facts({ person: account });
  });

  server.delete('/api/session', { config: { role: null } }, async (request, reply) => {
    await sessions.end(keyOf(request, cookieName));
    setCookie(reply, '', '; Max-Age=0');
    return facts({ person: null });
  });
}

/** Whose name a change bears: that of the account, or on a server without accounts the one that is given. */
export function whoAsks({ person }: FastifyRequest, by: string | undefined): string {
  if (person !== null) return person.name;
  if (by !== undefined) return by;
  throw new Refused(400, 'no-name', 'The name of the one who does this is missing.', 'Say your name in the page.');
}

/** An account that was taken away, or given another passphrase, ends its sessions; another role holds at once. */
async function personOf(accounts: Accounts, sessions: Sessions, key: string): Promise<Person | null> {
  const atSignIn = key === '' ? null : sessions.of(key);
  if (atSignIn === null) return null;
  const now = await accounts.find(atSignIn.name);
  if (now === null || passphraseMark(now.hash) !== atSignIn.passphraseMark) {
    await sessions.end(key);
    return null;
  }
  return { name: now.name, role: now.role };
}

function keyOf(request: FastifyRequest, cookieName: string): string {
  const pairs = (request.headers.cookie ?? '').split(';').map((pair) => pair.trim());
  return pairs.find((pair) => pair.startsWith(`${cookieName}=`))?.slice(cookieName.length + 1) ?? '';
}

function mayDo(has: Role, needs: Role): boolean {
  return roles.indexOf(has) >= roles.indexOf(needs);
}
