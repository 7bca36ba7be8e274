import { readFile } from 'node:fs/promises';
import { hostname, networkInterfaces } from 'node:os';
import type { FastifyInstance } from 'fastify';
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
  const isHere = isLoopback(host);
  const tls = await readTls(options.tlsCert, options.tlsKey);
  const { behindProxy } = options;
  if (behindProxy !== undefined && !isHere)
    throw new UsageError('Behind a proxy the review listens on this machine only: leave --host out.');
  if (!isHere && tls === null)
    throw new UsageError(
      'Beyond this machine the review is served by https only: give --tls-cert and --tls-key, or put a proxy before it and say --behind-proxy and the name it is reached by.',
    );
  const needsAccounts = !isHere || behindProxy !== undefined || options.withAccounts === true;
  if (needsAccounts && (await accounts.list()).length === 0)
    throw new UsageError(
      'There is no account yet. Make one first: plateglass accounts add NAME --role administer, with the same --store.',
    );
  const secure = tls !== null || behindProxy !== undefined;
  const names = namesOf(host);
  const hosts = new Set(
    behindProxy === undefined
      ? [...names, ...(options.name ?? [])].flatMap((name) => [
          `${name}:${port}`,
          ...(port === (tls === null ? 80 : 443) ? [name] : []),
        ])
      : [behindProxy, ...(options.name ?? [])],
  );
  const shown = behindProxy ?? (isHere ? `127.0.0.1:${port}` : `${options.name?.[0] ?? names[0]}:${port}`);
  return {
    ...{ host, port, hosts, tls, behindProxy: behindProxy !== undefined },
    access: needsAccounts ? { accounts, secure, sessionFile } : null,
    url: `${secure ? 'https' : 'http'}://${shown}/`,
  };
}

export function isLoopback(host: string): boolean {
  return /^(127\.|::1$|localhost$)/.test(host);
}

export async function readTls(tlsCert: string | undefined, tlsKey: string | undefined): Promise<ServeAddress['tls']> {
  if (tlsCert === undefined && tlsKey === undefined) return null;
  if (tlsCert === undefined || tlsKey === undefined)
    throw new UsageError('For https both are needed: --tls-cert and --tls-key.');
  const read = (path: string) =>
    readFile(path).catch(() => {
      throw new UsageError(`${path} is not there, or may not be read.`);
    });
  return { cert: await read(tlsCert), key: await read(tlsKey) };
}

export async function listenOn(
  server: FastifyInstance,
  { host, port }: Pick<ServeAddress, 'host' | 'port'>,
  option: '--port' | '--customer-address',
): Promise<void> {
  await server.listen({ host, port }).catch((error: NodeJS.ErrnoException) => {
    throw error.code === 'EADDRINUSE'
      ? new UsageError(`Port ${port} is in use. End the program that uses it, or choose another with ${option}.`)
      : error;
  });
}

/** What a host is called by those who reach it; for all addresses at once, every one this machine has, and its name. */
export function namesOf(host: string): string[] {
  if (isLoopback(host)) return loopbackNames;
  if (host !== '0.0.0.0' && host !== '::') return [host.includes(':') ? `[${host}]` : host];
  const addresses = Object.values(networkInterfaces()).flatMap((one) => one ?? []);
  return [
    hostname(),
    ...addresses.map(({ address, family }) => (family === 'IPv6' ? `[${address}]` : address)),
    ...loopbackNames,
  ];
}
