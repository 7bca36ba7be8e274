import { fileURLToPath } from 'node:url';
import { createServer } from '../web/server/createServer.ts';
import { usualStoreLocation } from './jobs/storeLocation.ts';
import { openUsableStore } from './openUsableStore.ts';
import { askedToEnd } from './serviceOptions.ts';
import { UsageError } from './usageError.ts';

export interface ServeOptions {
  readonly store?: string;
  readonly blobs?: string;
  readonly port?: number;
}

const usualPort = 4180;

/** Serves the review in the browser until it is asked to end. Answers to this machine only. */
export async function serveCommand(options: ServeOptions): Promise<number> {
  const port = options.port ?? usualPort;
  const location = options.store ?? usualStoreLocation();
  const store = await openUsableStore({ store: location, blobs: options.blobs }, 'plateglass serve');
  try {
    const server = await createServer({
      store,
      pageFolder: fileURLToPath(new URL('../web/page', import.meta.url)),
      hosts: new Set([`127.0.0.1:${port}`, `localhost:${port}`]),
      trouble: (error) => process.stderr.write(`${error.stack ?? error.message}\n`),
    });
    try {
      await server.listen({ host: '127.0.0.1', port }).catch((error: NodeJS.ErrnoException) => {
        throw error.code === 'EADDRINUSE'
          ? new UsageError(`Port ${port} is in use. End the program that uses it, or choose another with --port.`)
          : error;
      });
      process.stdout.write(`The review is at http://127.0.0.1:${port}/\n`);
      await askedToEnd(() => process.exit(1));
      return 0;
    } finally {
      await server.close();
    }
  } finally {
    await store.close();
  }
}
