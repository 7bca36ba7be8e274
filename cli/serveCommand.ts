import { existsSync } from 'node:fs';
import { mkdir } from 'node:fs/promises';
import { hostname } from 'node:os';
import { join, resolve } from 'node:path';
import { fileURLToPath } from 'node:url';
import type { CheckProgram } from '../src/intake/childCheck.ts';
import { checkInChild } from '../src/intake/childCheck.ts';
import { realDisk } from '../src/intake/disk.ts';
import { workerPrefix } from '../src/intake/folderLock.ts';
import type { WorkerTools } from '../src/intake/jobWorker.ts';
import { ownMark } from '../src/intake/processes.ts';
import type { Say } from '../src/intake/say.ts';
import { spoolIn } from '../src/intake/spool.ts';
import type { Station } from '../src/intake/station.ts';
import { openStation } from '../src/intake/station.ts';
import { clearWork } from '../src/intake/workFolders.ts';
import type { OpenedStore } from '../src/jobs/jobStore.ts';
import { isPostgres } from '../src/jobs/openJobStore.ts';
import { createServer } from '../web/server/createServer.ts';
import { sourceOf } from '../web/server/noteRoutes.ts';
import { RevisionPlates } from '../web/server/revisionPlates.ts';
import { ShopFile } from '../web/server/shopFile.ts';
import { shopPreview } from '../web/server/shopPreview.ts';
import { Uploads } from '../web/server/uploads.ts';
import { accountsIn, homeOf } from './accountsFile.ts';
import { customerPageSettings, usualValidDays } from './customerPageSettings.ts';
import { type CustomerPlaceOptions, customerPlace } from './customerPlace.ts';
import { usualStoreLocation } from './jobs/storeLocation.ts';
import { noteDesk } from './noteDesk.ts';
import { openUsableStore } from './openUsableStore.ts';
import { type Posting, startPosting } from './postLoop.ts';
import { openReviewHelpers } from './reviewHelpers.ts';
import { listenOn, serveAddress } from './serveAddress.ts';
import { serveCustomers } from './serveCustomers.ts';
import {
  askedToEnd,
  checkProgram,
  describeSetUp,
  graceMsOf,
  leaseMsOf,
  type ServiceOptions,
  sayOn,
  shareOut,
} from './serviceOptions.ts';
import { shopFileToKeep } from './shopFileToKeep.ts';
import { noteSettings } from './shopNotes.ts';
import { noticeTargets } from './shopNotices.ts';
import { storeOfFolder } from './storeOfFolder.ts';
import { type HeldFolder, holdFolder, type WatchOptions, watchHeld } from './watchFolder.ts';

export interface ServeOptions
  extends ServiceOptions,
    CustomerPlaceOptions,
    Pick<WatchOptions, 'settle' | 'sweep' | 'markersOnly'> {
  /** A folder to watch as `watch` does. */
  readonly watch?: string;
  readonly port?: number;
  readonly host?: string;
  /** Names it is reached by besides its host. */
  readonly name?: readonly string[];
  readonly behindProxy?: string;
  readonly tlsCert?: string;
  readonly tlsKey?: string;
  readonly withAccounts?: boolean;
}

/** Serves the review in the browser, and checks what comes through it or the watched folder, until it is asked to end. */
export async function serveCommand(options: ServeOptions): Promise<number> {
  const held = options.watch === undefined ? null : await holdFolder(options.watch, options);
  try {
    const location = options.store ?? (held === null ? usualStoreLocation() : await storeOfFolder(held.spool));
    const home = homeOf(location);
    await mkdir(home, { recursive: true, mode: 0o700 });
    const accounts = accountsIn(home);
    const address = await serveAddress(options, accounts, join(home, 'sessions.json'));
    const opened = await openUsableStore({ store: location, blobs: options.blobs }, 'plateglass serve');
    try {
      return await serve(options, { held, location, home, opened, address });
    } finally {
      await opened.close();
    }
  } finally {
    await held?.release();
  }
}

interface ServeParts {
  readonly held: HeldFolder | null;
  readonly location: string;
  readonly home: string;
  readonly opened: OpenedStore;
  readonly address: Awaited<ReturnType<typeof serveAddress>>;
}

async function serve(options: ServeOptions, parts: ServeParts): Promise<number> {
  const { held, home, opened, address } = parts;
  const say = held?.say ?? sayOn(options.log ?? join(home, 'log'));
  const { hands, memoryBytes } = shareOut(options);
  const shopPath = await shopFileToKeep(options.shop, home);
  const program = shopPath.current(await checkProgram({ ...options, shop: shopPath.named }, memoryBytes));
  const shop = new ShopFile(shopPath.path, join(home, 'shop-history'));
  // A shop's file that is changed to something wrong keeps nobody from his page.
  const ofShop = async <Value>(read: (shopFile: string) => Promise<Value>, otherwise: Value): Promise<Value> =>
    existsSync(shopPath.path) ? read(shopPath.path).catch(() => otherwise) : otherwise;
  const pageSettings = () => ofShop(customerPageSettings, { address: null, validDays: usualValidDays });
  const customers = await customerPlace(options, (await pageSettings()).address);
  const helpers = openReviewHelpers();
  let station: Station | null = null;
  let posting: Posting | null = null;
  const notes = noteDesk(() => program.shopFile, helpers.makePaper);
  const plates = new RevisionPlates(opened.blobs);
  const trouble = (error: Error) => say.trouble(`The review: ${error.stack ?? error.message}`);
  const { server, progress, changed, brought } = await createServer({
    ...address,
    store: opened,
    pageFolder: fileURLToPath(new URL('../web/page', import.meta.url)),
    uploads: new Uploads(join(home, 'uploads')),
    shop,
    preview: shopPreview(opened, join(home, 'preview'), helpers.judge, (shopFile, order, signal) =>
      checkInChild({ ...program, shopFile }, order, signal),
    ),
    judge: helpers.judge,
    comparePlates: helpers.comparePlates,
    renderReport: helpers.renderReport,
    notes,
    nudgePost: () => posting?.nudge(),
    customerPage: async () => ({ ...(await pageSettings()), address: customers?.url ?? null }),
    nudge: () => station?.hands.nudge(),
    trouble,
  });
  const tellProgress: WorkerTools['progress'] = (work) => progress({ what: 'progress', ...work });
  let customerServer: Awaited<ReturnType<typeof serveCustomers>> | null = null;
  try {
    await listenOn(server, address, '--port');
    if (customers !== null)
      customerServer = await serveCustomers(customers, {
        ...{ store: opened, changed, brought, trouble },
        uploadFolder: join(home, 'uploads'),
        proofPdf: async (revision, wish) => notes.proof(await sourceOf(opened, plates, revision), wish),
        voice: async () => (await ofShop(noteSettings, { settings: {}, folder: '' })).settings,
      });
    let halt: () => void = () => process.exit(1);
    const ended = askedToEnd(() => halt());
    say.job(`The review is at ${address.url}`);
    if (customers !== null) say.job(`Links for customers begin with ${customers.url}/c/`);
    say.job(`${held === null ? '' : `Watching ${held.root}. `}${describeSetUp(program, hands)}`);
    const work =
      held === null
        ? await checkHere(options, parts, { say, program, hands, progress: tellProgress })
        : await watchHeld({ ...parts, held, program, hands, options, progress: tellProgress });
    station = work.station;
    posting = work.posting;
    halt = () => work.station.hands.halt();
    await ended;
    say.job('Asked to end: finishing what is being checked.');
    await customerServer?.close();
    await server.close();
    await work.stop(graceMsOf(options));
    say.job('Ended.');
    return 0;
  } finally {
    await customerServer?.close();
    await server.close();
    await helpers.close();
  }
}

interface HereParts {
  readonly say: Say;
  readonly program: CheckProgram;
  readonly hands: number;
  readonly progress: WorkerTools['progress'];
}

/** Checks what came through the page, without a watched folder. */
async function checkHere(
  options: ServeOptions,
  { home, location, opened }: ServeParts,
  { say, program, hands, progress }: HereParts,
): Promise<{ readonly station: Station; readonly posting: Posting; stop(graceMs: number): Promise<void> }> {
  const spool = spoolIn(join(home, 'desk'));
  await mkdir(spool.work, { recursive: true });
  await clearWork(realDisk, spool);
  const shopFile = program.shopFile ?? undefined;
  const station = openStation({
    ...{ spool, opened, hands, program, say, progress },
    outcomes: resolve(spool.root),
    workerPrefix: workerPrefix({ host: hostname(), ...ownMark() }),
    targets: await noticeTargets(shopFile, options),
    writeNotChecked: async (...parameters) =>
      (await import('./writeNotChecked.ts')).writeNotChecked(program.shopFile ?? undefined, ...parameters),
    ...{ leaseMs: leaseMsOf(options), pollMs: isPostgres(location) ? 2_000 : 1_000, mostTries: 2 },
  });
  const posting = startPosting(opened.jobs, () => program.shopFile, say);
  return {
    ...{ station, posting },
    stop: async (graceMs) => {
      await Promise.all([station.stop(graceMs), posting.stop()]);
    },
  };
}
