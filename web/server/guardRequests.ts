import type { FastifyInstance } from 'fastify';
import { Refused } from './refused.ts';

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

/**
 * Refuses requests for another name than the server's (a page elsewhere may point a name of its own at this machine), and
 * changes that another page asks for. Every answer says what a browser may do with it.
 */
export function guardRequests(server: FastifyInstance, hosts: ReadonlySet<string>): void {
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
