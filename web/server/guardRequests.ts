import type { FastifyInstance } from 'fastify';
import { Refused } from './refused.ts';
import { SlowDown } from './slowDown.ts';

/**
 * Scripts, styles, pictures and questions from this server only, nothing in the markup, no frames, no plug-ins. Workers
 * are files of the page; pictures are also made by the page itself (blob:).
 */
const policy = [
  "default-src 'none'",
  "script-src 'self'",
  "worker-src 'self'",
  "style-src 'self'",
  "img-src 'self' blob: data:",
  "font-src 'self'",
  "connect-src 'self'",
  "form-action 'self'",
  "base-uri 'none'",
  "frame-ancestors 'none'",
].join('; ');

/** Fast panning over twelve films asks for some hundred tiles a second. */
const usualRates: RequestRates = { looks: 6_000, changes: 600, withinMs: 10_000 };

/** Requests of one address within a stretch of time, those that change nothing and those that do. */
export interface RequestRates {
  readonly looks: number;
  readonly changes: number;
  readonly withinMs: number;
}

/**
 * Refuses requests for another name than the server's (a page elsewhere may point a name of its own at this machine),
 * changes that another page asks for, and more than anybody needs. Every answer says what a browser may do with it.
 */
export function guardRequests(
  server: FastifyInstance,
  hosts: ReadonlySet<string>,
  { looks, changes: mostChanges, withinMs }: RequestRates = usualRates,
): void {
  const looking = new SlowDown(looks, withinMs);
  const changing = new SlowDown(mostChanges, withinMs);

  server.addHook('onRequest', async (request, reply) => {
    reply.headers({
      'content-security-policy': policy,
      'x-content-type-options': 'nosniff',
      'referrer-policy': 'no-referrer',
      'cross-origin-opener-policy': 'same-origin',
      'cross-origin-resource-policy': 'same-origin',
      'permissions-policy': 'camera=(), microphone=(), geolocation=()',
      'cache-control': 'no-store',
    });
    if (!hosts.has(request.host))
      throw new Refused(
        421,
        'wrong-host',
        'This server is not reached by that name.',
        'Use the address it said at its start.',
      );
    const changes = request.method !== 'GET' && request.method !== 'HEAD';
    if (!(changes ? changing : looking).mayTry(request.ip)) {
      reply.header('retry-after', Math.ceil(withinMs / 1000));
      throw new Refused(429, 'too-many', 'Too many requests came from here.', 'Wait some seconds.');
    }
    if (!changes) return;
    const { origin } = request.headers;
    const site = request.headers['sec-fetch-site'];
    const isOwn = origin === undefined ? site === undefined || site === 'same-origin' : hosts.has(hostOf(origin));
    if (!isOwn || request.headers['x-plateglass'] !== '1')
      throw new Refused(403, 'other-page', 'Another page asked for this change.', 'Do it in the page of Plateglass.');
  });
}

function hostOf(origin: string): string {
  try {
    return new URL(origin).host;
  } catch {
    return '';
  }
}
