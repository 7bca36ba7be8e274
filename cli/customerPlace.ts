import { isLoopback, namesOf, readTls, type ServeAddress } from './serveAddress.ts';
import { UsageError } from './usageError.ts';

export interface CustomerPlaceOptions {
  readonly customerAddress?: string;
  readonly customerUrl?: string;
  readonly customerTlsCert?: string;
  readonly customerTlsKey?: string;
  readonly tlsCert?: string;
  readonly tlsKey?: string;
}

export interface CustomerPlace extends Pick<ServeAddress, 'host' | 'port' | 'hosts' | 'tls' | 'behindProxy'> {
  /** Where customers reach it: "https://films.shop.example". */
  readonly url: string;
}

/**
 * Where the customers' page is served: on an address of its own, never on that of the review. Null when it is not asked
 * for. Beyond this machine it is served by https only. `shopUrl`: what the shop's file says customers reach it by.
 */
export async function customerPlace(
  options: CustomerPlaceOptions,
  shopUrl: string | null,
): Promise<CustomerPlace | null> {
  const { customerAddress, customerUrl } = options;
  if (customerAddress === undefined) {
    if (customerUrl !== undefined || options.customerTlsCert !== undefined)
      throw new UsageError('Say where the customers’ page is served: --customer-address 0.0.0.0:8443.');
    return null;
  }
  const parts = /^(\[[0-9a-f:.]+\]|[^[\]:\s]+):(\d{1,5})$/i.exec(customerAddress);
  const port = Number(parts?.[2]);
  if (parts === null || port < 1 || port > 65_535)
    throw new UsageError(
      `--customer-address takes an address of this machine and a port, such as 0.0.0.0:8443, not ${customerAddress}.`,
    );
  const host = parts[1].replace(/^\[|\]$/g, '');
  const said = urlOf(customerUrl ?? shopUrl);
  const tls = (await readTls(options.customerTlsCert, options.customerTlsKey)) ?? (await ofReview(options, host));
  const here = isLoopback(host);
  if (!here && tls === null)
    throw new UsageError(
      'Beyond this machine the customers’ page is served by https only: give --customer-tls-cert and --customer-tls-key, or put a proxy before it and serve it on 127.0.0.1.',
    );
  const scheme = tls === null ? 'http' : 'https';
  const own = namesOf(host).map((name) => new URL(`${scheme}://${name}:${port}`));
  return {
    ...{ host, port, tls },
    hosts: new Set([...own.map((one) => one.host), ...(said === null ? [] : [said.host])]),
    // A page that is reached by another address than the one it is served on has a proxy before it.
    behindProxy: here && said !== null && !own.some((one) => one.host === said.host),
    url: (said ?? own[0]).href.replace(/\/$/, ''),
  };
}

/** The review's own certificate does for a page beyond this machine. */
async function ofReview({ tlsCert, tlsKey }: CustomerPlaceOptions, host: string): Promise<CustomerPlace['tls']> {
  return isLoopback(host) ? null : readTls(tlsCert, tlsKey);
}

function urlOf(text: string | null): URL | null {
  if (text === null) return null;
  const url = URL.canParse(text) ? new URL(text) : null;
  if (url === null || !/^https?:$/.test(url.protocol) || url.pathname !== '/' || url.search !== '' || url.hash !== '')
    throw new UsageError(`Customers reach the page by an address such as https://films.shop.example, not ${text}.`);
  return url;
}
