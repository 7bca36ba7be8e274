import type { FastifyInstance, FastifyReply, FastifyRequest } from 'fastify';
import { openLinkBy } from '../../../src/jobs/customerToken.ts';
import type { CustomerLink } from '../../../src/jobs/customerTypes.ts';
import type { OpenedStore } from '../../../src/jobs/jobStore.ts';
import { Refused } from '../refused.ts';
import { SlowDown } from '../slowDown.ts';
import { addressKey } from './addressKey.ts';

declare module 'fastify' {
  interface FastifyRequest {
    /** The link whose token the address names; null on addresses without one. */
    customerLink: CustomerLink | null;
  }
}

const policy = [
  "default-src 'none'",
  "script-src 'self'",
  "style-src 'self'",
  "img-src 'self'",
  "font-src 'self'",
  "connect-src 'self'",
  "form-action 'self'",
  "base-uri 'none'",
  "frame-ancestors 'none'",
].join('; ');

/** How often something may be asked; a page asks for some twenty addresses, a file comes in many pieces. */
export interface CustomerRates {
  /** Requests of one address of the net, each ten seconds. */
  readonly ofAddress: number;
  /** Requests under one link, each ten seconds. */
  readonly ofLink: number;
  /** Addresses of pages that are not there, of one address of the net, each quarter of an hour. */
  readonly wrongTokens: number;
}

export const usualCustomerRates: CustomerRates = { ofAddress: 400, ofLink: 400, wrongTokens: 40 };
const tenSecondsMs = 10_000;
const quarterMs = 15 * 60_000;

/**
 * Lets nobody further who does not hold the token of an open link. The token is the only right there is: no cookie is
 * read or set, so another page, which does not know it, can ask for nothing in the name of a customer. What is expired,
 * revoked or was never there is answered the same.
 */
export function guardCustomers(
  server: FastifyInstance,
  { jobs }: OpenedStore,
  hosts: ReadonlySet<string>,
  rates: CustomerRates,
): void {
  const ofAddress = new SlowDown(rates.ofAddress, tenSecondsMs);
  const ofLink = new SlowDown(rates.ofLink, tenSecondsMs);
  const wrongTokens = new SlowDown(rates.wrongTokens, quarterMs);

  server.decorateRequest('customerLink', null);
  server.addHook('onRequest', async (request, reply) => {
    setHeaders(reply);
    if (!hosts.has(request.host)) throw nothingHere();
    const from = addressKey(request.ip);
    if (!ofAddress.mayTry(from) || wrongTokens.isOver(from)) throw tooMany();
    const token = tokenOf(request);
    if (token === null) return;
    refuseOtherPages(request, hosts);
    const link = await openLinkBy(jobs, token);
    if (link === null) {
      wrongTokens.mayTry(from);
      throw nothingHere();
    }
    if (!ofLink.mayTry(String(link.id))) throw tooMany();
    request.customerLink = link;
  });
}

/** The link of a request that has come past the guard. */
export function linkOf({ customerLink }: Pick<FastifyRequest, 'customerLink'>): CustomerLink {
  if (customerLink === null) throw nothingHere();
  return customerLink;
}

function setHeaders(reply: FastifyReply): void {
  reply.headers({
    'content-security-policy': policy,
    'x-content-type-options': 'nosniff',
    'referrer-policy': 'no-referrer',
    'cross-origin-opener-policy': 'same-origin',
    'cross-origin-resource-policy': 'same-origin',
    'permissions-policy': 'camera=(), microphone=(), geolocation=()',
    'x-robots-tag': 'noindex, nofollow, noarchive',
    'cache-control': 'no-store',
  });
}

/** A second lock: a browser that says so asks for a change from this very page. Without a referrer the origin is "null". */
function refuseOtherPages({ method, headers }: FastifyRequest, hosts: ReadonlySet<string>): void {
  if (method === 'GET' || method === 'HEAD') return;
  const { origin } = headers;
  const site = headers['sec-fetch-site'];
  const isOwn =
    (site === undefined || site === 'same-origin') &&
    (origin === undefined || origin === 'null' || (URL.canParse(origin) && hosts.has(new URL(origin).host)));
  if (!isOwn) throw nothingHere();
}

function tokenOf({ routeOptions, params }: FastifyRequest): string | null {
  if (!routeOptions.url?.startsWith('/c/:token')) return null;
  return String((params as { token?: unknown }).token ?? '');
}

export function nothingHere(): Refused {
  return new Refused(404, 'not-there', 'There is no page at this address.', 'Ask the shop for a new link.');
}

export function tooMany(): Refused {
  return new Refused(429, 'too-many', 'Too many requests came from here.', 'Wait some seconds.');
}
