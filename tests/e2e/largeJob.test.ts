import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import type { Browser } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { type BitPlane, setBit } from '../../src/raster/bitPlane.ts';
import { launchBrowser } from '../support/browser.ts';
import { fillFestival, heightPx, plateCount, widthPx } from '../support/festivalStore.ts';
import { pixelUnderPointer } from '../support/filmPixels.ts';
import { hasOracle } from '../support/oraclePrograms.ts';
import { type ReviewUnderTest, startReview } from '../support/reviewServer.ts';

const squarePx = 8;
/** Painted plates; the twelve repeat them. */
const painted = 4;
const period = 2 * painted;
const mostServerMb = 400;

/** Squares along diagonals; each painted plate has one diagonal in eight, so that half of the film is bare. */
function isBlack(column: number, row: number, n: number): boolean {
  return (Math.floor(column / squarePx) + Math.floor(row / squarePx)) % period === (n - 1) % painted;
}

function paintSquares(plate: BitPlane, n: number): void {
  const repeatRows = squarePx * period;
  for (let row = 0; row < repeatRows; row++)
    for (let column = 0; column < widthPx; column++) if (isBlack(column, row, n)) setBit(plate, column, row);
  const repeat = plate.words.slice(0, repeatRows * plate.wordsPerRow);
  for (let row = repeatRows; row < heightPx; row += repeatRows) {
    const rows = Math.min(repeatRows, heightPx - row);
    plate.words.set(repeat.subarray(0, rows * plate.wordsPerRow), row * plate.wordsPerRow);
  }
}

/** The most memory a process has had, in MB; see proc_pid_status(5). */
function mostMemoryMb(pid: number): number {
  return Number(/VmHWM:\s*(\d+) kB/.exec(readFileSync(`/proc/${pid}/status`, 'utf8'))?.[1]) / 1000;
}

describe('a job of twelve plates of 300 megapixels', () => {
  let review: ReviewUnderTest;
  let browser: Browser;

  beforeAll(async () => {
    if (!hasOracle('chromium')) return;
    review = await startReview();
    await review.kill();
    await fillFestival(join(review.folder, 'store'), paintSquares, painted);
    await review.startAgain();
    browser = await launchBrowser();
  }, 300_000);
  afterAll(async () => {
    await browser?.close();
    await review?.close();
  });

  it('is seen as a whole, down to its pixels and plate by plate, in little memory', async () => {
    if (!hasOracle('chromium')) return;
    const page = await browser.newPage({ viewport: { width: 1440, height: 1000 }, reducedMotion: 'reduce' });
    const errors: string[] = [];
    page.on('pageerror', (error) => errors.push(error.message));
    await page.goto(`${review.url}/jobs/1`);
    const film = page.locator('canvas.film');
    await expect.poll(() => film.getAttribute('data-complete'), { timeout: 60_000 }).toBe('true');
    await page.getByRole('radio', { name: 'As films' }).check();
    await page.getByRole('button', { name: '1:1', exact: true }).click();
    const compare = async (plates: readonly number[]) => {
      await expect.poll(() => film.getAttribute('data-complete'), { timeout: 60_000 }).toBe('true');
      const counts = { black: 0, clear: 0 };
      for (let turn = 0; turn < 30; turn++) {
        const seen = await pixelUnderPointer(page, 300 + ((turn * 37) % 190), 330 + ((turn * 53) % 190));
        if (seen === null) throw new Error('The middle of the film is not under the pointer.');
        const black = plates.some((n) => isBlack(seen.column, seen.row, n));
        counts[black ? 'black' : 'clear'] += 1;
        expect(seen.isDark, `column ${seen.column}, row ${seen.row}`).toBe(black);
      }
      expect(Math.min(counts.black, counts.clear)).toBeGreaterThan(4);
    };
    const all = Array.from({ length: plateCount }, (_, index) => index + 1);
    await compare(all);
    const lifted = all.filter((n) => n % 2 === 1);
    for (const n of lifted)
      await page.getByRole('button', { name: new RegExp(`Ink ${n}(?!\\d)`), pressed: true }).click();
    await compare(all.filter((n) => !lifted.includes(n)));
    expect(errors).toEqual([]);
    expect(mostMemoryMb(review.pid)).toBeLessThan(mostServerMb);
    await page.close();
  });
});
