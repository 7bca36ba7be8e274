import { readdirSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { expectAccessible } from '../support/accessible.ts';
import { launchBrowser, watched } from '../support/browser.ts';
import { hasOracle } from '../support/oraclePrograms.ts';
import { type ReviewUnderTest, startReview } from '../support/reviewServer.ts';

const order = fileURLToPath(new URL('../../fixtures/jobs/choir-order', import.meta.url));

const noteSettings = { shop: 'Our screen room', mail: { from: 'films@shop.example', testFolder: 'mails' } };

describe('the review', () => {
  let review: ReviewUnderTest;
  let browser: Browser;
  let jobId = 0;

  beforeAll(async () => {
    if (!hasOracle('chromium')) return;
    review = await startReview();
    jobId = await review.bring('choir <i>order</i>', [join(order, 'choir-order.svg'), join(order, 'ticket.yaml')]);
    writeFileSync(join(review.folder, 'store/shop.yaml'), JSON.stringify({ note: noteSettings }));
    browser = await launchBrowser();
  });
  afterAll(async () => {
    await browser?.close();
    await review?.close();
  });

  for (const colorScheme of ['light', 'dark'] as const) {
    it(`breaks no rule of accessibility in the ${colorScheme} theme, and asks nobody else`, async () => {
      if (!hasOracle('chromium')) return;
      for (const width of [1440, 768]) {
        const page = await browser.newPage({ viewport: { width, height: 1000 }, colorScheme, reducedMotion: 'reduce' });
        const { asked } = watched(page);
        await page.goto(review.url);
        await page.getByRole('link', { name: 'choir <i>order</i>' }).waitFor();
        await expectAccessible(page, `jobs ${width}`);
        await page.getByText('Settings').click();
        await expectAccessible(page, `settings ${width}`);
        await page.goto(`${review.url}/jobs/${jobId}`);
        await page.locator('canvas.film').waitFor();
        await expectAccessible(page, `table ${width}`);
        await page.keyboard.press('n');
        await page.locator('.entry.current').waitFor();
        await expectAccessible(page, `finding ${width}`);
        await page.getByRole('button', { name: 'Accept with a reason' }).first().click();
        await page.getByRole('dialog').waitFor();
        await expectAccessible(page, `decision ${width}`);
        for (const path of ['/shop', `/jobs/${jobId}/1/papers`, `/jobs/${jobId}/ticket`, '/nowhere']) {
          await page.goto(`${review.url}${path}`);
          await page.getByRole('heading', { level: 1 }).waitFor();
          await page.waitForTimeout(500);
          await expectAccessible(page, `${path} ${width}`);
        }
        expect(asked.filter((url) => !url.startsWith(review.url) && !/^(blob|data):/.test(url))).toEqual([]);
        await page.close();
      }
    });
  }

  it('can be gone through by keyboard alone: finding, accepting, releasing', async () => {
    if (!hasOracle('chromium')) return;
    const page = await browser.newPage({ viewport: { width: 1440, height: 1000 }, reducedMotion: 'reduce' });
    await page.goto(review.url);
    await tabTo(page, 'choir <i>order</i>');
    await page.keyboard.press('Enter');
    await page.locator('canvas.film').waitFor();
    await page.keyboard.press('n');
    await tabTo(page, 'Accept with a reason');
    await page.keyboard.press('Enter');
    await page.getByRole('dialog').waitFor();
    await tabTo(page, 'Reason (needed)');
    await page.keyboard.type('The customer wants it so.');
    await tabTo(page, 'Your name');
    await page.keyboard.type('Ines');
    await page.keyboard.press('Enter');
    await page.getByText('Accepted by Ines').waitFor();
    await tabTo(page, 'Release');
    await page.keyboard.press('Enter');
    await tabTo(page, 'Your name');
    await page.keyboard.press('Enter');
    await page.getByText(/^Released by Ines/).waitFor();
    const job = await review.job(jobId);
    expect(job.history.map(({ what }) => what)).toEqual(expect.arrayContaining(['findingAccepted', 'released']));
    expect(job.revisions[0].standing).toBe('released');
    expect(await page.locator('main i').count(), 'no markup of a name is carried out').toBe(0);
    await page.close();
  });

  it('tells another open page of a decision', async () => {
    if (!hasOracle('chromium')) return;
    const [one, other] = [await browser.newPage(), await browser.newPage()];
    for (const page of [one, other]) {
      await page.goto(`${review.url}/jobs/${jobId}`);
      await page.locator('canvas.film').waitFor();
    }
    await one.getByRole('button', { name: 'Hold', exact: true }).click();
    await one.getByLabel('Your name').fill('Bruno');
    await one.getByRole('dialog').getByRole('button', { name: 'Hold' }).click();
    await other.getByText(/^On hold by Bruno/).waitFor();
    await one.close();
    await other.close();
  });

  it('lets the note be changed and sent by keyboard alone, and once', async () => {
    if (!hasOracle('chromium')) return;
    const page = await browser.newPage({ viewport: { width: 768, height: 1000 }, reducedMotion: 'reduce' });
    await page.goto(`${review.url}/jobs/${jobId}`);
    await page.locator('canvas.film').waitFor();
    await tabTo(page, 'Papers');
    await page.keyboard.press('Enter');
    const paper = page.getByRole('article', { name: 'The note as the customer reads it' });
    await paper.waitFor();
    await tabTo(page, 'Language of the note');
    await page.keyboard.type('Deutsch');
    await tabTo(page, 'A sentence of your own');
    await page.keyboard.type('Bis bald.');
    await paper.getByText('Bis bald.').waitFor();
    expect(await paper.getAttribute('lang')).toBe('de');
    expect(await paper.locator('img').first().getAttribute('alt')).toMatch(/Ausschnitt|Teil/);
    await tabTo(page, 'Mail address of the customer');
    await page.keyboard.type('choir@village.example');
    await tabTo(page, 'Send the note');
    await page.keyboard.press('Enter');
    await page.getByRole('dialog').waitFor();
    await expectAccessible(page, 'sending');
    await tabTo(page, 'Your name');
    await page.keyboard.type('Ines');
    await page.keyboard.press('Enter');
    await page.locator('.mails').getByText('Sent', { exact: true }).waitFor();
    const job = await review.job(jobId);
    expect(job.history.map(({ what }) => what)).toEqual(expect.arrayContaining(['mailQueued', 'mailSent']));
    // The same once more is refused, until it is asked for.
    await page.getByRole('button', { name: 'Send the note' }).click();
    await page.getByRole('dialog').getByRole('button', { name: 'Send the note' }).click();
    await page.getByRole('dialog').getByText('was given to the post').waitFor();
    await page.getByRole('dialog').getByRole('button', { name: 'Cancel' }).click();
    expect(readdirSync(join(review.folder, 'store/mails'))).toHaveLength(1);
    await page.getByRole('button', { name: 'Copy the text' }).click();
    await page.close();
  });
});

/** Goes on with the tab key until what has the focus bears this name. */
async function tabTo(page: Page, name: string): Promise<void> {
  for (let turn = 0; turn < 120; turn++) {
    await page.keyboard.press('Tab');
    const focused = (await page.evaluate(`(() => {
      const element = document.activeElement;
      return (element.getAttribute('aria-label') ?? element.labels?.[0]?.textContent ?? element.textContent ?? '').trim();
    })()`)) as string;
    if (focused.startsWith(name)) return;
  }
  throw new Error(`The tab key does not come to "${name}".`);
}
