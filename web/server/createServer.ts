import type { Server as HttpsServer } from 'node:https';
import type { SecureContextOptions } from 'node:tls';
import staticFiles from '@fastify/static';
import fastify, { type FastifyHttpsOptions, type FastifyInstance } from 'fastify';
import type { OpenedStore } from '../../src/jobs/jobStore.ts';
import { type AccessOptions, guardAccess } from './access.ts';
import { bringRoutes } from './bringRoutes.ts';
import { compareRoutes } from './compareRoutes.ts';
import { type ComparePlates, Comparisons } from './comparisons.ts';
import { DecidedReports, type RenderReport } from './decidedReports.ts';
import { exportRoutes } from './exportRoutes.ts';
import { followChanges } from './followChanges.ts';
import { guardRequests, type RequestRates } from './guardRequests.ts';
import { jobRoutes } from './jobRoutes.ts';
import type { Judge } from './judgeAgain.ts';
import { judgeRoutes } from './judgeRoutes.ts';
import { type LinkSettings, linkRoutes } from './linkRoutes.ts';
import { Listeners } from './listeners.ts';
import type { NoteDesk } from './noteDesk.ts';
import { noteRoutes } from './noteRoutes.ts';
import { pageOf, pictureRoute } from './pageRoutes.ts';
import { plateRoutes } from './plateRoutes.ts';
import { answerRefused, notThere, Refused } from './refused.ts';
import { reportRoutes } from './reportRoutes.ts';
import { RevisionPlates } from './revisionPlates.ts';
import type { ShopFile } from './shopFile.ts';
import type { PreviewShop } from './shopPreview.ts';
import { shopRoutes } from './shopRoutes.ts';
import { uploadRoutes } from './uploadRoutes.ts';
import type { Uploads } from './uploads.ts';
import { widthRoutes } from './widthRoutes.ts';

export interface ServerOptions {
  readonly store: OpenedStore;
  /** The built page. */
  readonly pageFolder: string;
  /** Names this server is reached by, as in the address bar: "127.0.0.1:4180". Requests for others are refused. */
  readonly hosts: ReadonlySet<string>;
  /** Null: everybody who can reach it may do everything. */
  readonly access: AccessOptions | null;
  readonly uploads: Uploads;
  readonly shop: ShopFile;
  readonly preview: PreviewShop;
  readonly judge: Judge;
  readonly comparePlates: ComparePlates;
  readonly renderReport: RenderReport;
  /** Makes notes, proofs and work lists. */
  readonly notes: NoteDesk;
  /** There is a mail to send. */
  readonly nudgePost: () => void;
  /** Of the page that customers see; it is served elsewhere. */
  readonly customerPage: () => Promise<LinkSettings>;
  /** There is a job to check. */
  readonly nudge: () => void;
  readonly tls: Pick<SecureContextOptions, 'cert' | 'key'> | null;
  /** Requests come through a proxy on this machine, which says who asks. */
  readonly behindProxy: boolean;
  /** What went wrong in the program itself, for the log. */
  readonly trouble: (error: Error) => void;
  /** Without it as many as a page can have use for. */
  readonly rates?: RequestRates;
  /** A request must have come as a whole within this time: 60 s. */
  readonly requestTimeoutMs?: number;
  /** Time between looks for what other processes changed: 1 s. */
  readonly lookEveryMs?: number;
}

export interface ReviewServer {
  readonly server: FastifyInstance;
  /** Tells open pages how far a check is. */
  readonly progress: Listeners['tell'];
  /** Tells open pages that a job has something new; `brought` also that there is something to check. */
  readonly changed: (jobId: number) => void;
  readonly brought: (jobId: number) => void;
  /** Every address it answers. */
  readonly routes: readonly { readonly method: string; readonly url: string }[];
}

/** Requests have no use for more; art comes in pieces. */
const mostBodyBytes = 1024 * 1024;

/** The review's server: answers the page's questions and hands out the page itself. Reaches for nothing outside. */
export async function createServer(options: ServerOptions): Promise<ReviewServer> {
  const { store, uploads, shop, preview } = options;
  const server = createFastify(options);
  const routes: { method: string; url: string }[] = [];
  server.addHook('onRoute', ({ method, url }) => {
    for (const one of [method].flat()) routes.push({ method: one, url });
  });
  const listeners = new Listeners();
  const changed = (jobId: number) => listeners.tell({ what: 'job', jobId });
  const following = followChanges(
    (id) => store.jobs.changesAfter(id),
    options.lookEveryMs ?? 1_000,
    () => listeners.count > 0,
    changed,
  );
  server.addHook('onClose', async () => following.stop());
  // Open event streams would keep the server from closing.
  server.addHook('preClose', async () => listeners.close());
  answerErrors(server, options);
  guardRequests(server, options.hosts, options.rates);
  guardAccess(server, options.access);
  await server.register(staticFiles, { root: options.pageFolder, wildcard: false });
  const plates = new RevisionPlates(store.blobs);
  pictureRoute(server, store);
  jobRoutes(server, store, changed);
  const brought = (jobId: number) => {
    changed(jobId);
    options.nudge();
  };
  uploadRoutes(server, { path: '/api/uploads', uploadsOf: () => uploads, named: (_request, name) => name });
  bringRoutes(server, { store, uploads, shop, brought });
  linkRoutes(server, store, options.customerPage, changed);
  judgeRoutes(server, { store, shop, judge: options.judge });
  plateRoutes(server, store, plates);
  widthRoutes(server, store, plates);
  compareRoutes(server, store, new Comparisons(store.blobs, plates, options.comparePlates));
  const reports = new DecidedReports(store.blobs, plates, options.renderReport);
  reportRoutes(server, store, reports);
  exportRoutes(server, store, reports);
  const { customerPage, notes, nudgePost } = options;
  noteRoutes(server, { store, plates, desk: notes, customerPage, changed, nudgePost });
  shopRoutes(server, { shop, preview, changed: () => listeners.tell({ what: 'shop' }) });
  listeners.route(server);
  return { server, progress: (event) => listeners.tell(event), changed, brought, routes };
}

function createFastify({ tls, behindProxy, requestTimeoutMs }: ServerOptions): FastifyInstance {
  const requestTimeout = requestTimeoutMs ?? 60_000;
  const usual = {
    bodyLimit: mostBodyBytes,
    requestTimeout,
    forceCloseConnections: true,
    trustProxy: behindProxy ? 'loopback' : false,
  };
  const sockets = { headersTimeout: requestTimeout, connectionsCheckingInterval: Math.min(5_000, requestTimeout) };
  if (tls === null) return fastify({ ...usual, http: sockets });
  const secure: FastifyHttpsOptions<HttpsServer> = { ...usual, https: { ...sockets, ...tls, minVersion: 'TLSv1.2' } };
  return fastify(secure) as unknown as FastifyInstance;
}

function answerErrors(server: FastifyInstance, { trouble, pageFolder, store, access }: ServerOptions): void {
  const page = pageOf(pageFolder, store, ({ person }) => access === null || person !== null);
  server.setErrorHandler((error: Error & { statusCode?: number }, _request, reply) => {
    if (error instanceof Refused) return answerRefused(reply, error);
    const status = error.statusCode ?? 500;
    if (status < 500)
      return answerRefused(reply, new Refused(status, 'wrong-request', error.message, 'Load the page again.'));
    trouble(error);
    return answerRefused(
      reply,
      new Refused(500, 'fault', 'Something went wrong in the program.', 'Try again; the log of the server says more.'),
    );
  });
  server.setNotFoundHandler((request, reply) => page(request, reply) ?? answerRefused(reply, notThere('address')));
}
