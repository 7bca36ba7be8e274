import { type ChildProcess, spawn } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { Page } from 'playwright-core';
import { launchBrowser } from '../support/browser.ts';
import { startReview } from '../support/reviewServer.ts';
import { drawBenchFilm } from './benchFilm.ts';

const program = new URL('../../cli/main.js', import.meta.url).pathname;
const openings = 5;
const panSteps = 90;
const zoomSteps = 30;

/**
 * Opens the review of a finished job in Chromium and prints how long it takes until there is something to see and until
 * all of the window is drawn, how long frames take while the film is dragged and zoomed, and the server's memory.
 * Without parameters a job of four plates; with --festival one of twelve plates of 300 megapixels.
 */
async function main(isFestival: boolean): Promise<void> {
  const folder = mkdtempSync(join(tmpdir(), 'review-frames-'));
  const review = isFestival ? await serveFestival(folder) : await serveFour(folder);
  const browser = await launchBrowser();
  try {
    const firsts: number[] = [];
    const wholes: number[] = [];
    for (let n = 0; n < openings; n++) {
      // A browser that has seen nothing of it yet.
      const context = await browser.newContext({ viewport: { width: 1600, height: 1000 } });
      const page = await context.newPage();
      await page.addInitScript({ content: noteFirstPicture });
      await page.goto(review.url);
      await page.locator('html[data-whole-ms]').waitFor({ timeout: 120_000 });
      const { firstMs, wholeMs } = await page.evaluate<Record<string, string>>(
        '({ ...document.documentElement.dataset })',
      );
      firsts.push(Number(firstMs));
      wholes.push(Number(wholeMs));
      if (n === openings - 1) {
        say('pan', await framesWhile(page, () => drag(page)));
        say('zoom', await framesWhile(page, () => zoom(page)));
      }
      await context.close();
    }
    process.stdout.write(`first picture ${told(firsts)}, whole window ${told(wholes)} (of ${openings} openings)\n`);
    const status = readFileSync(`/proc/${review.pid}/status`, 'utf8');
    const mb = (name: string) => Math.round(Number(new RegExp(`${name}:\\s+(\\d+)`).exec(status)?.[1]) / 1000);
    process.stdout.write(`server: ${mb('VmRSS')} MB, at most ${mb('VmHWM')} MB\n`);
  } finally {
    await browser.close();
    await review.close();
    rmSync(folder, { recursive: true, force: true });
  }
}

interface Served {
  readonly url: string;
  readonly pid: number;
  close(): Promise<void>;
}

async function serveFour(folder: string): Promise<Served> {
  const review = await startReview();
  const film = join(folder, 'festival.pdf');
  writeFileSync(film, await drawBenchFilm(500));
  const jobId = await review.bring('festival', [film]);
  return { url: `${review.url}/jobs/${jobId}`, pid: review.pid, close: review.close };
}

async function serveFestival(folder: string): Promise<Served> {
  const store = join(folder, 'store');
  const { fillFestival } = await import('../support/festivalStore.ts');
  await fillFestival(store);
  const port = 4187;
  const child = spawn(process.execPath, [program, 'serve', '--store', store, '--port', String(port)]);
  await saidItsAddress(child);
  return {
    url: `http://127.0.0.1:${port}/jobs/1`,
    pid: child.pid!,
    close: async () => {
      const ended = new Promise((resolve) => child.once('exit', resolve));
      child.kill('SIGTERM');
      await ended;
    },
  };
}

function saidItsAddress(child: ChildProcess): Promise<void> {
  return new Promise((resolve, reject) => {
    child.stdout!.on('data', (text: Buffer) => text.includes('http://') && resolve());
    child.once('exit', (code) => reject(new Error(`plateglass serve ended with ${code}.`)));
  });
}

/** Runs in the page: notes when the film is seen for the first time, and when all of the window is drawn. */
const noteFirstPicture = `
  const note = (name) => (document.documentElement.dataset[name] ??= String(Math.round(performance.now())));
  const look = () => {
    const canvas = document.querySelector('canvas.film');
    const preview = document.querySelector('img.film-preview');
    if (canvas?.dataset.pictured === 'true' || (preview?.complete && preview.naturalWidth > 0)) note('firstMs');
    if (canvas?.dataset.complete === 'true') note('wholeMs');
    requestAnimationFrame(look);
  };
  requestAnimationFrame(look);`;

/** Runs in the page: notes the time of each frame. */
const noteFrames = `
  window.frameTimes = [];
  const next = (now) => {
    window.frameTimes.push(now);
    requestAnimationFrame(next);
  };
  requestAnimationFrame(next);`;

/** Milliseconds between the frames that are shown while something is done. */
async function framesWhile(page: Page, work: () => Promise<void>): Promise<number[]> {
  await page.evaluate(`(() => {${noteFrames}})()`);
  await work();
  const times = await page.evaluate<number[]>('window.frameTimes');
  return times.slice(1).map((time, index) => time - times[index]);
}

async function drag(page: Page): Promise<void> {
  await page.getByRole('button', { name: '1:1', exact: true }).click();
  await page.waitForTimeout(1_000);
  await page.mouse.move(900, 400);
  await page.mouse.down();
  for (let n = 0; n < panSteps; n++) await page.mouse.move(900 - 8 * n, 400 + 2 * n);
  await page.mouse.up();
}

async function zoom(page: Page): Promise<void> {
  await page.mouse.move(600, 400);
  for (let n = 0; n < zoomSteps; n++) await page.mouse.wheel(0, n < zoomSteps / 2 ? -60 : 60);
}

function say(what: string, frames: readonly number[]): void {
  const sorted = [...frames].sort((a, b) => a - b);
  const at = (share: number) => sorted[Math.min(sorted.length - 1, Math.floor(share * sorted.length))].toFixed(1);
  process.stdout.write(`${what}: ${frames.length} frames, median ${at(0.5)} ms, 95th percentile ${at(0.95)} ms\n`);
}

function told(values: readonly number[]): string {
  const sorted = [...values].sort((a, b) => a - b);
  return `${sorted[Math.floor(sorted.length / 2)]} ms (${sorted[0]} to ${sorted[sorted.length - 1]})`;
}

await main(process.argv.includes('--festival'));
