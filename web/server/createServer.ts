import staticFiles from '@fastify/static';
import fastify, { type FastifyInstance } from 'fastify';
import type { OpenedStore } from '../../src/jobs/jobStore.ts';
import { guardRequests } from './guardRequests.ts';
import { jobRoutes } from './jobRoutes.ts';
import { Listeners } from './listeners.ts';
import { plateRoutes } from './plateRoutes.ts';
import { answerRefused, notThere, Refused } from './refused.ts';
import { reportRoutes } from './reportRoutes.ts';

export interface ServerOptions {
  readonly store: OpenedStore;
  /** The built page. */
  readonly pageFolder: string;
  /** Names this server is reached by, as in the address bar: "127.0.0.1:4180". Requests for others are refused. */
  readonly hosts: ReadonlySet<string>;
  /** What went wrong in the program itself, for the log. */
  readonly trouble: (error: Error) => void;
}

/** Requests have no use for more; art comes in pieces. */
const mostBodyBytes = 1024 * 1024;

/** The review's server: answers the page's questions and hands out the page itself. Reaches for nothing outside. */
export async function createServer(options: ServerOptions): Promise<FastifyInstance> {
  const server = fastify({ bodyLimit: mostBodyBytes, requestTimeout: 60_000, forceCloseConnections: true });
  const listeners = new Listeners();
  server.addHook('onClose', async () => listeners.close());
  server.setErrorHandler((error: Error & { statusCode?: number }, _request, reply) => {
    if (error instanceof Refused) return answerRefused(reply, error);
    const status = error.statusCode ?? 500;
    if (status < 500)
      return answerRefused(reply, new Refused(status, 'wrong-request', error.message, 'Load the page again.'));
    options.trouble(error);
    return answerRefused(
      reply,
      new Refused(500, 'fault', 'Something went wrong in the program.', 'Try again; the log of the server says more.'),
    );
  });
  server.setNotFoundHandler((request, reply) =>
    // Addresses of the page's own views are answered with the page.
    request.method === 'GET' && !request.url.startsWith('/api/')
      ? reply.sendFile('index.html')
      : answerRefused(reply, notThere('address')),
  );
  guardRequests(server, options.hosts);
  await server.register(staticFiles, { root: options.pageFolder, wildcard: false });
  jobRoutes(server, options.store, (jobId) => listeners.tell({ jobId, what: 'job' }));
  plateRoutes(server, options.store);
  reportRoutes(server, options.store);
  listeners.route(server);
  return server;
}
