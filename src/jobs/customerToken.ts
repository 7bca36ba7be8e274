import { createHash, randomBytes, timingSafeEqual } from 'node:crypto';
import type { CustomerLink, NewCustomerLink } from './customerTypes.ts';
import type { JobStore } from './jobStore.ts';

/** 160 bits, in characters that no mail program breaks an address at. */
const tokenBytes = 20;
const tokenPattern = /^[0-9a-f]{40}$/;

/** A new link and its token, which is told this once and kept nowhere. */
export async function newCustomerLink(
  jobs: Pick<JobStore, 'makeCustomerLink'>,
  wish: Omit<NewCustomerLink, 'tokenSha256'>,
): Promise<{ readonly link: CustomerLink; readonly token: string }> {
  const token = randomBytes(tokenBytes).toString('hex');
  return { link: await jobs.makeCustomerLink({ ...wish, tokenSha256: hashOf(token) }), token };
}

/** The link a token opens; null for one that is expired, revoked, or was never given out. */
export async function openLinkBy(jobs: Pick<JobStore, 'customerLinkBy'>, token: string): Promise<CustomerLink | null> {
  if (!tokenPattern.test(token)) return null;
  const sought = hashOf(token);
  const found = await jobs.customerLinkBy(sought);
  const isIt = found !== null && timingSafeEqual(Buffer.from(found.tokenSha256, 'hex'), Buffer.from(sought, 'hex'));
  return isIt && found.isOpen ? found : null;
}

/** Where the page of a link is, below the address that customers reach the shop by. */
export function customerUrl(address: string, token: string): string {
  return `${address.replace(/\/+$/, '')}/c/${token}`;
}

function hashOf(token: string): string {
  return createHash('sha256').update(token).digest('hex');
}
