import { join } from 'node:path';
import type { Browser, Page } from 'playwright-core';
import sharp from 'sharp';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { launchBrowser } from '../support/browser.ts';
import { pixelUnderPointer } from '../support/filmPixels.ts';
import { hasOracle } from '../support/oraclePrograms.ts';
import { type ReviewUnderTest, startReview } from '../support/reviewServer.ts';

const widthPx = 1400;
const heightPx = 1100;
const edgePx = 512;

/** The film by its geometry: a frame, and a patch of no regularity about the corner where four tiles meet. */
function isBlack(column: number, row: number): boolean {
  if (column < 60 || row < 60 || column >= widthPx - 60 || row >= heightPx - 60) return column >= 20 && row >= 20;
  if (Math.abs(column - edgePx) > 60 || Math.abs(row - edgePx) > 60) return false;
  return ((column * 7919 + row * 104_729 + column * row) >> 3) % 5 < 2;
}

describe('the light table', () => {
  let review: ReviewUnderTest;
  let browser: Browser;
  let jobId = 0;

  beforeAll(async () => {
    if (!hasOracle('chromium')) return;
    review = await startReview();
    const film = join(review.folder, 'coral.png');
    const grey = new Uint8Array(widthPx * heightPx);
    for (let row = 0; row < heightPx; row++)
      for (let column = 0; column < widthPx; column++) grey[row * widthPx + column] = isBlack(column, row) ? 0 : 255;
    await sharp(grey, { raw: { width: widthPx, height: heightPx, channels: 1 } })
      .withMetadata({ density: 600 })
      .png({ colours: 2, palette: false })
      .toFile(film);
    jobId = await review.bring('pattern', [film]);
    browser = await launchBrowser();
  });
  afterAll(async () => {
    await browser?.close();
    await review?.close();
  });

  it('shows under the pointer the pixel of the plate, at one to one and larger', async () => {
    if (!hasOracle('chromium')) return;
    const page = await browser.newPage({ viewport: { width: 1200, height: 900 } });
    await page.goto(`${review.url}/jobs/${jobId}`);
    await page.getByRole('radio', { name: 'As films' }).check();
    await page.getByRole('button', { name: '1:1', exact: true }).click();
    let compared = 0;
    let black = 0;
    for (const scale of [1, 2, 4, 8]) {
      if (scale > 1) await page.getByRole('button', { name: 'Closer' }).click();
      await expect.poll(() => page.locator('.readout').innerText()).toContain(`${scale}${scale < 10 ? '.0' : ''} : 1`);
      // Off the whole pixel, so that the film has to be laid back on it.
      await centreOnCorner(page, scale);
      await expect.poll(() => page.locator('canvas.film').getAttribute('data-complete')).toBe('true');
      for (let turn = 0; turn < 24; turn++) {
        const seen = await pixelUnderPointer(page, 380 + ((turn * 37) % 90), 300 + ((turn * 53) % 90));
        if (seen === null) continue;
        compared++;
        if (isBlack(seen.column, seen.row)) black++;
        expect(seen.isDark, `${scale}:1, column ${seen.column}, row ${seen.row}`).toBe(isBlack(seen.column, seen.row));
      }
    }
    expect(compared).toBeGreaterThan(80);
    expect(black).toBeGreaterThan(10);
    expect(compared - black).toBeGreaterThan(10);
    await page.close();
  });

  it('is not called complete once it is to be shown another way', async () => {
    if (!hasOracle('chromium')) return;
    const page = await browser.newPage({ viewport: { width: 1200, height: 900 } });
    await page.goto(`${review.url}/jobs/${jobId}`);
    await expect.poll(() => page.locator('canvas.film').getAttribute('data-complete')).toBe('true');
    await page.getByRole('radio', { name: 'As films' }).waitFor();
    const right = await page.evaluate(`(async () => {
      [...document.querySelectorAll('label')].find((label) => label.textContent.includes('As films')).click();
      await new Promise((done) => setTimeout(done));
      return document.querySelector('canvas.film').dataset.complete;
    })()`);
    expect(right).toBe('false');
    await expect.poll(() => page.locator('canvas.film').getAttribute('data-complete')).toBe('true');
    await page.close();
  });

  it('says nothing of inks it has not seen yet', async () => {
    if (!hasOracle('chromium')) return;
    const page = await browser.newPage({ viewport: { width: 1200, height: 900 } });
    await page.route('**/tiles/**', (route) => route.abort());
    await page.goto(`${review.url}/jobs/${jobId}`);
    const inks = page.locator('.readout div').filter({ hasText: 'Inks' });
    await inks.waitFor();
    await page.waitForTimeout(500);
    expect(await inks.textContent()).toBe('Inks–');
    await page.close();
  });
});

/** Drags the corner of four tiles to where pixels are looked at. */
async function centreOnCorner(page: Page, scale: number): Promise<void> {
  for (let turn = 0; turn < 6; turn++) {
    const seen = await pixelUnderPointer(page, 420, 345);
    const [dx, dy] = seen === null ? [0, 0] : [(seen.column - edgePx) * scale, (seen.row - edgePx) * scale];
    if (seen !== null && Math.abs(dx) < 20 * scale && Math.abs(dy) < 20 * scale) return;
    await page.mouse.down();
    await page.mouse.move(420 + Math.max(-400, Math.min(400, dx)), 345 + Math.max(-180, Math.min(180, dy)));
    await page.mouse.up();
  }
}
