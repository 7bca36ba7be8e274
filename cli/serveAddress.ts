import { readFile } from 'node:fs/promises';
import { hostname, networkInterfaces } from 'node:os';
import type { AccessOptions } from '../web/server/access.ts';
import type { Accounts } from '../web/server/accounts.ts';
import type { ServeOptions } from './serveCommand.ts';
import { UsageError } from './usageError.ts';

const usualPort = 4180;
const loopbackNames = ['127.0.0.1', 'localhost', '[::1]'];

export interface ServeAddress {
  readonly host: string;
  readonly port: number;
  readonly hosts: ReadonlySet<string>;
  readonly access: AccessOptions | null;
  readonly tls: { readonly cert: Buffer; readonly key: Buffer } | null;
  readonly behindProxy: boolean;
  readonly url: string;
}

/** Where the review is reached, and who may. Beyond this machine it is never served without accounts and https. */
export async function serveAddress(
  options: ServeOptions,
  accounts: Accounts,
  sessionFile: string,
): Promise<ServeAddress> {
  const host = options.host ?? '127.0.0.1';
  const port = options.port ?? usualPort;
  const isLoopback = /^(127\.|::1$|localhost$)/.test(host);
  const tls = await tlsOf(options);
  const { behindProxy } = options;
  if (behindProxy !== undefined && !isLoopback)
    throw new UsageError('Behind a proxy the review listens on this machine only: leave --host out.');
  if (!isLoopback && tls === null)
    throw new UsageError(
      'Beyond this machine the review is served by https only: give --tls-cert and --tls-key, or put a proxy before it and say --behind-proxy and the name it is reached by.',
    );
  const needsAccounts = !isLoopback || behindProxy !== undefined || options.withAccounts === true;
  if (needsAccounts && (await accounts.list()).length === 0)
    throw new UsageError(
      'There is no account yet. Make one first: plateglass accounts add NAME --role administer, with the same --store.',
    );
  const secure = tls !== null || behindProxy !== undefined;
  const names = isLoopback ? loopbackNames : namesOf(host);
  const hosts = new Set(
    behindProxy === undefined
      ? [...names, ...(options.name ?? [])].flatMap((name) => [
          `${name}:${port}`,
          ...(port === (tls === null ? 80 : 443) ? [name] : []),
        ])
      : [behindProxy, ...(options.name ?? [])],
  );
  const shown = behindProxy ?? (isLoopback ? `127.0.0.1:${port}` : `${options.name?.[0] ?? names[0]}:${port}`);
  return {
    ...{ host, port, hosts, tls, behindProxy: behindProxy !== undefined },
    access: needsAccounts ? { accounts, secure, sessionFile } : null,
    url: `${secure ? 'https' : 'http'}://${shown}/`,
  };
}

async function tlsOf({ tlsCert, tlsKey }: ServeOptions): Promise<ServeAddress['tls']> {
  if (tlsCert === undefined && tlsKey === undefined) return null;
  if (tlsCert === undefined || tlsKey === undefined)
    throw new UsageError('For https both are needed: --tls-cert and --tls-key.');
  const read = (path: string) =>
    readFile(path).catch(() => {
      throw new UsageError(`${path} is not there, or may not be read.`);
    });
  return { cert: await read(tlsCert), key: await read(tlsKey) };
}

/** What a host is called from elsewhere; for all addresses at once, every one this machine has, and its name. */
function namesOf(host: string): string[] {
  if (host !== '0.0.0.0' && host !== '::') return [host.includes(':') ? `[${host}]` : host];
  const addresses = Object.values(networkInterfaces()).flatMap((one) => one ?? []);
  return [
    hostname(),
    ...addresses.map(({ address, family }) => (family === 'IPv6' ? `[${address}]` : address)),
    ...loopbackNames,
  ];
}
