import { mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { strFromU8, unzipSync } from 'fflate';
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { expectAccessible } from '../support/accessible.ts';
import { launchBrowser, watched } from '../support/browser.ts';
import { pixelUnderPointer } from '../support/filmPixels.ts';
import { hasOracle } from '../support/oraclePrograms.ts';
import { type ReviewUnderTest, startReview } from '../support/reviewServer.ts';

/** A frame, and one line that is too thin: 0.2 mm at x = 40 mm. Names and words try to be markup. */
const lineMm = { xMm: 40, widthMm: 0.2, topMm: 12, bottomMm: 48 };
const lantern = (more = '') => `<svg xmlns="http://www.w3.org/2000/svg" width="80mm" height="60mm" viewBox="0 0 80 60">
  <title>&lt;img src=x onerror=alert(1)&gt;</title><script>alert(2)</script>
  <g id="&lt;b&gt;layer&lt;/b&gt;"><path d="M5 5H75V55H5Z" fill="none" stroke="#c9304e" stroke-width="3" onclick="alert(3)"/></g>
  <rect x="${lineMm.xMm - lineMm.widthMm / 2}" y="${lineMm.topMm}" width="${lineMm.widthMm}"
    height="${lineMm.bottomMm - lineMm.topMm}" fill="#c9304e"/>${more}</svg>`;
const pitchMm = 25.4 / 600;
const ticket = { job: 'Lantern <b>walk</b>', customer: '"><svg onload=alert(4)>', limits: { minLineMm: 0.35 } };

describe('a job from the drop to the export', () => {
  let review: ReviewUnderTest;
  let browser: Browser;
  let page: Page;
  let troubles: string[];

  beforeAll(async () => {
    if (!hasOracle('chromium')) return;
    review = await startReview();
    browser = await launchBrowser();
    page = await browser.newPage({
      viewport: { width: 1440, height: 1000 },
      reducedMotion: 'reduce',
      acceptDownloads: true,
    });
    ({ troubles } = watched(page));
  });
  afterAll(async () => {
    await browser?.close();
    await review?.close();
  });

  it('is brought by dropping films, though the line breaks in between, and is seen being checked', async () => {
    if (!hasOracle('chromium')) return;
    await page.goto(review.url);
    await page.locator('.bring').waitFor();
    let broken = 0;
    await page.route('**/api/uploads/*', (route) =>
      route.request().method() === 'PATCH' && broken++ === 0 ? route.abort('connectionreset') : route.continue(),
    );
    await drop(page, {
      'lantern.svg': lantern(),
      'ticket.json': JSON.stringify(ticket),
      'notes.txt': 'ring the band',
      '.hidden': 'x',
    });
    await page.getByLabel('Your name').fill('Ines');
    await page.getByRole('button', { name: 'Send' }).click();
    await page.getByText('Left out, as they are neither films nor tickets: notes.txt, .hidden').waitFor();
    expect(broken).toBeGreaterThan(1);
    await page.unroute('**/api/uploads/*');
    const row = page.getByRole('listitem').filter({ hasText: 'lantern' });
    await row.getByText('Not ready').waitFor({ timeout: 120_000 });
    await row.getByRole('link').click();
    await page.locator('canvas.film').waitFor();
    await page.locator('#first-picture').waitFor({ state: 'detached' });
  });

  it('leads from a finding to its pixels', async () => {
    if (!hasOracle('chromium')) return;
    for (let step = 0; step < 12; step++) {
      await page.keyboard.press('n');
      if ((await page.locator('.entry.current .entry-title').textContent())?.includes('too thin')) break;
    }
    await expect.poll(() => page.locator('.entry.current').textContent()).toContain('0.20');
    await page.getByRole('button', { name: '1:1', exact: true }).click();
    await page.getByRole('button', { name: 'Closer' }).click();
    await page.getByRole('button', { name: 'Closer' }).click();
    await expect.poll(() => page.locator('.readout').textContent()).toContain('4.0 : 1');
    await expect.poll(() => page.locator('canvas.film').getAttribute('data-complete')).toBe('true');
    const isRed = (column: number) => Math.abs((column + 0.5) * pitchMm - lineMm.xMm) < lineMm.widthMm / 2;
    await page.getByRole('radio', { name: 'As films' }).check();
    await expect.poll(() => page.locator('canvas.film').getAttribute('data-complete')).toBe('true');
    let [black, clear] = [0, 0];
    for (let turn = 0; turn < 16; turn++) {
      const seen = await pixelUnderPointer(page, 480 + 4 * turn, 420);
      if (seen === null) continue;
      // Half a pixel to each side is for the renderer to round.
      const edgeMm = Math.abs(Math.abs((seen.column + 0.5) * pitchMm - lineMm.xMm) - lineMm.widthMm / 2);
      if (edgeMm < pitchMm) continue;
      expect(seen.isDark, `column ${seen.column}`).toBe(isRed(seen.column));
      if (seen.isDark) black++;
      else clear++;
    }
    expect([black > 0, clear > 0]).toEqual([true, true]);
  });

  it('is settled, released and exported, with the other browser told of each step', async () => {
    if (!hasOracle('chromium')) return;
    const other = await browser.newPage();
    await other.goto(page.url());
    await other.locator('canvas.film').waitFor();
    const inDialog = page.getByRole('dialog');
    await page.locator('.entry.current').getByRole('button', { name: 'Accept with a reason' }).click();
    await inDialog.getByRole('button', { name: 'Accept with a reason' }).click();
    expect(await inDialog.isVisible(), 'without a reason nothing is accepted').toBe(true);
    await inDialog.getByLabel('Reason (needed)').fill('Held on the last run.');
    await inDialog.getByRole('button', { name: 'Accept with a reason' }).click();
    await page.getByText('Accepted by Ines').waitFor();
    await other.locator('.entry').filter({ hasText: 'Accepted' }).first().waitFor();
    await page.getByRole('button', { name: 'Release', exact: true }).click();
    await inDialog.getByRole('button', { name: 'Release' }).click();
    await page.getByText(/^Released by Ines/).waitFor();
    await other.getByText(/^Released by Ines/).waitFor();
    // Both may be undone, and each button says what it undoes.
    for (const name of ['Undo the release', 'Undo the acceptance'])
      expect(await page.getByRole('button', { name, exact: true }).count(), name).toBe(1);
    await other.close();

    const download = page.waitForEvent('download');
    await page.getByRole('link', { name: 'Export' }).click();
    const files = unzipSync(readFileSync(await (await download).path()));
    const html = strFromU8(files['revision 1/report.html']);
    expect(html).toContain('Revision 1: released for filming.');
    expect(html).toContain('Held on the last run.');
    expect(html).not.toMatch(/<script|<b>walk|<svg onload/);
    expect(strFromU8(files['decisions.txt'])).toContain('Ines; Released for filming');
    expect(files['revision 1/report.pdf'].length).toBeGreaterThan(10_000);
  });

  it('goes on where it was when the server is killed in the middle of it', async () => {
    if (!hasOracle('chromium')) return;
    await review.kill();
    await page.getByRole('button', { name: 'Whole film' }).click();
    await review.startAgain();
    await page.getByRole('button', { name: 'Hold', exact: true }).click();
    await page.getByRole('dialog').getByRole('button', { name: 'Hold' }).click();
    await page.getByText(/^On hold by Ines/).waitFor();
    // The line to the server opens again by itself.
    const other = await browser.newPage();
    await other.goto(page.url());
    await other.getByRole('button', { name: 'Undo the hold' }).click();
    await other.getByLabel('Your name').fill('Bruno');
    await other.getByRole('dialog').getByRole('button', { name: 'Undo the hold' }).click();
    await page.getByText(/^Released by Ines/).waitFor();
    await other.close();
    const [{ decisions }] = (await review.job(1)).revisions;
    expect(decisions.map(({ kind, undone }) => [kind, undone?.by ?? null])).toEqual([
      ['acceptFinding', null],
      ['release', null],
      ['hold', 'Bruno'],
    ]);
  });

  it('is brought again as a folder, is no longer released then, and is compared with what it was', async () => {
    if (!hasOracle('chromium')) return;
    const folder = join(review.folder, 'lantern');
    mkdirSync(folder);
    const square = { xMm: 60, yMm: 40, sideMm: 6 };
    const drawn = `<rect x="${square.xMm}" y="${square.yMm}" width="6" height="6" fill="#c9304e"/>`;
    writeFileSync(join(folder, 'lantern.svg'), lantern(drawn));
    await page.goto(review.url);
    await page.getByLabel('Choose a folder').setInputFiles(folder);
    await expect
      .poll(async () => (await review.job(1)).revisions[0], { timeout: 120_000 })
      .toMatchObject({
        ...{ revision: 2, state: 'checked', standing: null },
      });
    await page.goto(`${review.url}/jobs/1`);
    await page.getByRole('link', { name: 'Compare' }).click();
    await page.getByRole('heading', { name: 'The films differ at 1 place' }).waitFor();
    await page.getByRole('radio', { name: 'What changed' }).check();
    await page.locator('.place-box button').click();
    await expect.poll(() => page.locator('.compared canvas').getAttribute('data-complete')).toBe('true');
    // The place lies in the middle of the window: what was added is drawn black there.
    const lightness = await page.evaluate<number>(`(() => {
      const canvas = document.querySelector('.compared canvas');
      return canvas.getContext('2d').getImageData(canvas.width / 2, canvas.height / 2, 1, 1).data[0];
    })()`);
    expect(lightness).toBeLessThan(60);
    expect(await page.locator('.place-box button').textContent()).toContain('63.0, 43.0 mm');
    for (const manner of ['What changed', 'In turn', 'Side by side']) {
      await page.getByRole('radio', { name: manner }).check();
      await expectAccessible(page, manner);
    }
    await page.setViewportSize({ width: 768, height: 1000 });
    await expectAccessible(page, 'narrow');
  });

  it('never ran anything that stood in a file or a name', () => {
    if (!hasOracle('chromium')) return;
    // A killed server, and what was left out of the drop, are all a page may complain of.
    const expected = /ERR_CONNECTION|net::ERR|400 \(Bad Request\) .*\/api\/uploads$/;
    expect(troubles.filter((trouble) => !expected.test(trouble))).toEqual([]);
  });
});

/** Lets go of files over the page, as from a folder of the desktop. */
async function drop(page: Page, files: Readonly<Record<string, string>>): Promise<void> {
  const transfer = await page.evaluateHandle(`(() => {
    const transfer = new DataTransfer();
    for (const [name, text] of ${JSON.stringify(Object.entries(files))}) transfer.items.add(new File([text], name));
    return transfer;
  })()`);
  await page.dispatchEvent('body', 'drop', { dataTransfer: transfer });
}
