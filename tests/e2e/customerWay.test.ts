import { mkdirSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import type { Browser } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { catalogues } from '../../src/fixNotes/words/wordsIn.ts';
import { customerCatalogues } from '../../web/server/customer/words/wordsIn.ts';
import { runCli } from '../cli/runCli.ts';
import { expectAccessible } from '../support/accessible.ts';
import { launchBrowser, watched } from '../support/browser.ts';
import { hasOracle } from '../support/oraclePrograms.ts';
import { freePort, type ReviewUnderTest, startReview } from '../support/reviewServer.ts';

/** A frame with one line in it: 0.2 mm wide is too thin to print, 2 mm is not. */
const lantern = (
  lineMm: number,
) => `<svg xmlns="http://www.w3.org/2000/svg" width="80mm" height="60mm" viewBox="0 0 80 60">
  <path data-ink="Coral" d="M5 5H75V55H5Z" fill="none" stroke="#c9304e" stroke-width="3"/>
  <rect data-ink="Coral" x="${40 - lineMm / 2}" y="12" width="${lineMm}" height="36" fill="#c9304e"/></svg>`;

describe('the way of a customer', () => {
  let review: ReviewUnderTest;
  let browser: Browser;
  let address = '';
  beforeAll(async () => {
    if (!hasOracle('chromium')) return;
    address = `127.0.0.1:${await freePort()}`;
    review = await startReview(['--customer-address', address]);
    browser = await launchBrowser();
  });
  afterAll(async () => {
    await browser?.close();
    await review?.close();
  });

  it('goes from the link over a new file to the approval, on a telephone', async () => {
    if (!hasOracle('chromium')) return;
    const art = join(review.folder, 'art');
    mkdirSync(art);
    const [thin, broad] = [join(art, 'lantern.svg'), join(art, 'lantern <b>new.svg')];
    writeFileSync(thin, lantern(0.2));
    writeFileSync(broad, lantern(2));
    const jobId = await review.bring('Lantern <i>tee</i>', [thin]);

    const shop = await browser.newPage({ viewport: { width: 1280, height: 900 } });
    await shop.goto(`${review.url}/jobs/${jobId}`);
    await shop.getByRole('button', { name: 'Link for the customer' }).click();
    await shop.getByLabel('Your name').fill('Mila');
    await shop.getByRole('button', { name: 'Make a link' }).click();
    const link = await shop.getByLabel(/told this once/).inputValue();
    expect(link).toMatch(new RegExp(`^http://${address}/c/[0-9a-f]{40}$`));
    await expectAccessible(shop, 'links');
    await shop.getByRole('dialog').getByRole('button', { name: 'Close', exact: true }).click();

    const page = await browser.newPage({ viewport: { width: 360, height: 720 }, reducedMotion: 'reduce' });
    const { troubles, asked } = watched(page);
    await page.goto(link);
    await page.getByRole('heading', { level: 1, name: 'Your job Lantern <i>tee</i>' }).waitFor();
    await page
      .getByText(/too thin|break/i)
      .first()
      .waitFor();
    const widest = await page.evaluate('document.documentElement.scrollWidth');
    expect(widest).toBeLessThanOrEqual(360);
    await expectAccessible(page, 'requests');
    await page.getByLabel('Files').setInputFiles(broad);
    await page.locator('#send-form').getByLabel('Your name').fill('Ines');
    await page.getByRole('button', { name: 'Send' }).click();
    await page.getByText(catalogues.en.frame.ready).waitFor({ timeout: 120_000 });
    expect((await review.job(jobId)).revisions[0]).toMatchObject({ revision: 2, verdict: 'pass' });
    expect((await review.job(jobId)).history.map(({ who, what }) => `${who} ${what}`)).toContain(
      'Ines (customer) arrived',
    );

    const proof = await page.request.get(
      new URL((await page.getByText('Proof as PDF').getAttribute('href'))!, link).href,
    );
    expect((await proof.body()).subarray(0, 5).toString()).toBe('%PDF-');

    // On by keyboard alone.
    await page.locator('#answer-form').getByLabel('Your name').focus();
    await page.keyboard.type('Ines');
    await page.keyboard.press('Tab');
    await page.keyboard.type('Lovely.');
    await page.keyboard.press('Tab');
    await page.keyboard.press('Enter');
    await page.getByText(/^Approved by Ines,/).waitFor();
    await expectAccessible(page, 'approved');
    const { revisions } = await review.job(jobId);
    expect(revisions[0].answers).toMatchObject([{ kind: 'approved', name: 'Ines', remark: 'Lovely.' }]);
    expect(revisions[1].customerAnswer).toBeNull();
    expect(troubles).toEqual([]);
    expect(asked.filter((url) => !url.startsWith(`http://${address}/`))).toEqual([]);
    await page.close();

    // The page of the shop was open all the while.
    await shop.getByText(/^Approved by the customer/).waitFor();
    await shop.close();
  }, 300_000);

  it('can be gone without scripts, in the dark and in another language; a closed link shows nothing', async () => {
    if (!hasOracle('chromium')) return;
    const jobId = await review.bring('Banner', [join(review.folder, 'art', 'lantern.svg')]);
    const on = (...parameters: string[]) => runCli(['link', ...parameters, '--store', join(review.folder, 'store')]);
    const made = on('make', 'Banner', '--language', 'de', '--units', 'inch', '--address', `http://${address}`);
    const link = made.stdout.trim();
    const context = await browser.newContext({
      ...{ viewport: { width: 360, height: 720 }, javaScriptEnabled: false, colorScheme: 'dark' },
    });
    const page = await context.newPage();
    await page.goto(link);
    await page.locator('#answer-form').getByLabel(customerCatalogues.de.name).fill('Ines');
    await page.getByRole('button', { name: customerCatalogues.de.decline }).click();
    await page.getByRole('alert').waitFor();
    await page.getByLabel(new RegExp(customerCatalogues.de.remark)).fill('Die Linie <b>breiter</b>.');
    await page.getByRole('button', { name: customerCatalogues.de.decline }).click();
    await page.getByText(/^Nicht freigegeben von Ines,/).waitFor();
    expect((await review.job(jobId)).revisions[0].answers).toMatchObject([{ remark: 'Die Linie <b>breiter</b>.' }]);
    const [, number] = /Link (\d+)/.exec(made.stderr)!;
    expect(on('list').stdout).toContain('open');
    expect(on('revoke', number).exitCode).toBe(0);
    expect(on('list', 'Banner').stdout).toContain('revoked');
    expect((await page.goto(link))!.status()).toBe(404);
    await context.close();
  }, 300_000);
});
