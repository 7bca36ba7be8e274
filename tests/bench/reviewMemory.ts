import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { openJobStore } from '../../src/jobs/openJobStore.ts';
import { levelCount } from '../../src/plateArchive/archiveFormat.ts';
import { createServer } from '../../web/server/createServer.ts';
import { ShopFile } from '../../web/server/shopFile.ts';
import { Uploads } from '../../web/server/uploads.ts';
import { fillFestival, heightPx, widthPx } from '../support/festivalStore.ts';
import { noPapers } from '../web/support/noPapers.ts';

const mostMb = 400;

/**
 * Serves every tile of a job of twelve plates of 300 megapixels to four at once, and prints the most memory the process
 * had since the plates were made. Those are made with --fill in a process of its own first, as that takes more.
 */
async function view(folder: string): Promise<void> {
  const store = await openJobStore({ location: folder, owner: 'a bench' });
  const { server } = await createServer({
    ...{ store, pageFolder: folder, hosts: new Set(['bench']), access: null, tls: null, behindProxy: false },
    ...{ uploads: new Uploads(join(folder, 'uploads')), shop: new ShopFile(join(folder, 'shop.yaml'), folder) },
    preview: async () => ({ jobs: [] }),
    judge: async () => ({ kind: 'notMeasured', reasons: [] }),
    renderReport: async () => {
      throw new Error('Nothing is written.');
    },
    comparePlates: async () => {
      throw new Error('Nothing is compared.');
    },
    notes: noPapers,
    customerPage: async () => ({ address: null, validDays: 14 }),
    nudge: () => undefined,
    nudgePost: () => undefined,
    trouble: (error) => {
      throw error;
    },
  });
  const address = await server.listen({ host: '127.0.0.1', port: 0 });
  const { get } = await import('node:http');
  const places: string[] = [];
  for (let level = 0; level < levelCount(widthPx, heightPx); level++) {
    for (let row = 0; row * 512 < heightPx / 2 ** level; row++)
      for (let column = 0; column * 512 < widthPx / 2 ** level; column++) places.push(`${level}/${column}/${row}`);
  }
  let bytes = 0;
  let mostRss = 0;
  const fetchOne = (place: string) =>
    new Promise<void>((resolve, reject) => {
      get(`${address}/api/jobs/1/1/tiles/${place}`, { headers: { host: 'bench' } }, (response) => {
        if (response.statusCode !== 200) reject(new Error(`${place}: ${response.statusCode}`));
        response.on('data', (data: Buffer) => {
          bytes += data.length;
        });
        response.on('end', resolve);
        response.on('error', reject);
      }).on('error', reject);
    });
  const wanted = [...places];
  const started = performance.now();
  await Promise.all(
    Array.from({ length: 4 }, async () => {
      for (let place = wanted.pop(); place !== undefined; place = wanted.pop()) {
        await fetchOne(place);
        mostRss = Math.max(mostRss, process.memoryUsage.rss());
      }
    }),
  );
  const mb = Math.round(mostRss / 1e6);
  const seconds = ((performance.now() - started) / 1000).toFixed(0);
  process.stdout.write(
    `${places.length} groups of tiles, ${Math.round(bytes / 1e6)} MB sent in ${seconds} s: at most ${mb} MB of memory, ${mostMb} allowed.\n`,
  );
  await server.close();
  await store.close();
  if (mb > mostMb) process.exitCode = 1;
}

const [step, given] = process.argv.slice(2);
if (step === '--fill') await fillFestival(given);
else if (step === '--view') await view(given);
else {
  const { spawnSync } = await import('node:child_process');
  const folder = mkdtempSync(join(tmpdir(), 'review-memory-'));
  try {
    for (const one of ['--fill', '--view']) {
      const { status } = spawnSync(process.execPath, [process.argv[1], one, folder], { stdio: 'inherit' });
      if (status !== 0) {
        process.exitCode = 1;
        break;
      }
    }
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}
