import type { Server as HttpsServer } from 'node:https';
import staticFiles from '@fastify/static';
import fastify, { type FastifyHttpsOptions, type FastifyInstance } from 'fastify';
import type { ServerOptions } from '../createServer.ts';
import { Refused } from '../refused.ts';
import { type CustomerParts, customerRoutes } from './customerRoutes.ts';
import { type CustomerRates, guardCustomers, usualCustomerRates } from './guardCustomers.ts';
import { plainPage } from './plainPage.ts';

export interface CustomerServerOptions
  extends CustomerParts,
    Pick<ServerOptions, 'hosts' | 'tls' | 'behindProxy' | 'trouble' | 'requestTimeoutMs'> {
  /** Style, script and type of the page, as they were built. */
  readonly pageFolder: string;
  readonly rates?: CustomerRates;
}

export interface CustomerServer {
  readonly server: FastifyInstance;
  /** Every address it answers. */
  readonly routes: readonly { readonly method: string; readonly url: string }[];
}

const mostBodyBytes = 64 * 1024;

/**
 * The server of the customers' page. It is another than the review's, on an address of its own, so that whoever reaches
 * it reaches nothing of the review; it knows no accounts and no cookies. Nothing it is asked for is logged, as the
 * address is the right to see the job.
 */
export async function createCustomerServer(options: CustomerServerOptions): Promise<CustomerServer> {
  const server = makeServer(options);
  const routes: { method: string; url: string }[] = [];
  server.addHook('onRoute', ({ method, url }) => {
    for (const one of [method].flat()) routes.push({ method: one, url });
  });
  answerErrors(server, options.trouble);
  guardCustomers(server, options.store, options.hosts, options.rates ?? usualCustomerRates);
  await server.register(staticFiles, {
    root: options.pageFolder,
    prefix: '/assets/',
    wildcard: false,
    index: false,
    cacheControl: false,
  });
  customerRoutes(server, options);
  return { server, routes };
}

function makeServer({ tls, behindProxy, requestTimeoutMs }: CustomerServerOptions): FastifyInstance {
  const requestTimeout = requestTimeoutMs ?? 60_000;
  const usual = {
    bodyLimit: mostBodyBytes,
    requestTimeout,
    forceCloseConnections: true,
    trustProxy: behindProxy ? 'loopback' : false,
    logger: false,
  };
  const sockets = { headersTimeout: requestTimeout, connectionsCheckingInterval: Math.min(5_000, requestTimeout) };
  if (tls === null) return fastify({ ...usual, http: sockets });
  const secure: FastifyHttpsOptions<HttpsServer> = { ...usual, https: { ...sockets, ...tls, minVersion: 'TLSv1.2' } };
  return fastify(secure) as unknown as FastifyInstance;
}

/** What went wrong is told by its code alone; a page that is not there, or no longer, looks the same whatever was asked. */
function answerErrors(server: FastifyInstance, trouble: (error: Error) => void): void {
  server.setErrorHandler((error: Error & { statusCode?: number }, _request, reply) => {
    const status = error instanceof Refused ? error.status : (error.statusCode ?? 500);
    if (status >= 500 || (error instanceof Refused && error.code === 'films-gone')) trouble(error);
    if (status === 404 || status === 421) return plainPage(reply, 404, 'gone');
    if (error instanceof Refused && error.code === 'too-many') return plainPage(reply, 429, 'slow');
    const code = error instanceof Refused ? error.code : status < 500 ? 'wrong-request' : 'fault';
    return reply.status(status).send({ error: { code } });
  });
  server.setNotFoundHandler((_request, reply) => plainPage(reply, 404, 'gone'));
}
