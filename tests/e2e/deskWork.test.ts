import { mkdirSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { mostPieceBytes } from '../../web/shared/uploads.ts';
import { launchBrowser } from '../support/browser.ts';
import { hasOracle } from '../support/oraclePrograms.ts';
import { type ReviewUnderTest, startReview } from '../support/reviewServer.ts';

const passphrase = 'lanterns over the brook';
const lineCount = 5_000;
/** Lines of 0.45 mm in a hundred columns. */
const manyLines = `<svg xmlns="http://www.w3.org/2000/svg" width="210mm" height="160mm" viewBox="0 0 210 160">${Array.from(
  { length: lineCount },
  (_, n) =>
    `<rect x="${5 + 2 * (n % 100)}" y="${5 + 3 * Math.floor(n / 100)}" width="0.45" height="2" fill="#131c33"/>`,
).join('')}</svg>`;
const ticket = {
  job: 'Band poster',
  customer: 'Village band',
  film: { marks: 'addedAtOutput' },
  garment: { colour: 'white' },
  limits: { minLineMm: 0.6, trapMm: 0.2 },
};

describe('the desk', () => {
  let review: ReviewUnderTest;
  let browser: Browser;
  let page: Page;

  beforeAll(async () => {
    if (!hasOracle('chromium')) return;
    review = await startReview(['--with-accounts'], { Mila: passphrase });
    browser = await launchBrowser();
    page = await browser.newPage({ viewport: { width: 1440, height: 1000 }, reducedMotion: 'reduce' });
  });
  afterAll(async () => {
    await browser?.close();
    await review?.close();
  });

  const signIn = async (words: string) => {
    await page.getByLabel('Name').fill('Mila');
    await page.getByLabel('Passphrase').fill(words);
    await page.getByRole('button', { name: 'Sign in' }).click();
  };
  const ask = async (path: string) => (await page.request.get(`${review.url}${path}`)).json();

  it('asks who sits there, and knows them after the server was killed', async () => {
    if (!hasOracle('chromium')) return;
    await page.goto(`${review.url}/shop`);
    await signIn('something else entirely');
    await page.getByText('Name and passphrase do not fit.').waitFor();
    await signIn(passphrase);
    await page.getByRole('heading', { name: 'Shop' }).waitFor();
    await review.kill();
    await review.startAgain();
    await page.goto(review.url);
    await page.locator('.bring').waitFor();
  });

  it('shows a job of five thousand places without a row for each', async () => {
    if (!hasOracle('chromium')) return;
    const folder = join(review.folder, 'band');
    mkdirSync(folder);
    writeFileSync(join(folder, 'poster.svg'), manyLines);
    writeFileSync(join(folder, 'ticket.json'), JSON.stringify(ticket));
    await page
      .getByLabel('Choose films')
      .setInputFiles(['poster.svg', 'ticket.json'].map((name) => join(folder, name)));
    const row = page.getByRole('listitem').filter({ hasText: 'poster' });
    await row.getByText('Not ready').waitFor({ timeout: 180_000 });
    await row.getByRole('link').click();
    await page.locator('canvas.film').waitFor();
    const entry = page.locator('.entry').filter({ hasText: 'too thin' });
    expect(await entry.count(), 'one finding, not one a place').toBe(1);
    await entry.locator('.entry-head').click();
    await page.getByText('places are listed').waitFor();
    const { findings } = (await ask('/api/jobs/1/1/files/report.json')).checks.find(
      ({ id }: { id: string }) => id === 'thin-line',
    );
    expect(findings[0].placesTotal).toBe(lineCount);
    await expect.poll(() => entry.textContent()).toContain('5,000 places');
    const rows = page.locator('.place-box li');
    expect(await rows.count()).toBeLessThan(20);
    for (let step = 0; step < 30; step++) await page.keyboard.press('.');
    await page.getByText(/^Place 31 of/).waitFor();
    expect(await rows.count()).toBeLessThan(20);
    expect(await page.locator('.place-box [aria-current]').textContent()).toMatch(/^31/);
  });

  it('judges a changed ticket while it is typed, and keeps all that is on it', async () => {
    if (!hasOracle('chromium')) return;
    await page.goto(`${review.url}/jobs/1/ticket`);
    const limit = page.getByRole('group', { name: 'Limits' }).first().getByLabel('Finest line (mm)');
    await limit.fill('0.35');
    const changes = page.getByRole('region', { name: 'What this ticket changes' });
    const row = changes.getByRole('row').filter({ hasText: 'Is every printed line' });
    await expect.poll(() => row.textContent(), { timeout: 60_000 }).toContain('fine');
    await limit.fill('4');
    await changes.getByText('The films must be measured again for this:').waitFor();
    await limit.fill('0.02 in');
    await page.getByText('0.020 in ·').waitFor();
    await limit.fill('-3');
    await page.getByText(/^Expected: /).waitFor();
    await limit.fill('0.35');
    await expect.poll(() => row.textContent()).toContain('fine');
    await page.getByRole('button', { name: 'Keep this ticket' }).click();
    await expect
      .poll(async () => (await ask('/api/jobs/1')).revisions[0], { timeout: 120_000 })
      .toMatchObject({ revision: 2, state: 'checked' });
    expect((await ask('/api/jobs/1/2/ticket')).values).toEqual({
      ...ticket,
      limits: { ...ticket.limits, minLineMm: 0.35 },
    });
    const report = await ask('/api/jobs/1/2/files/report.json');
    expect(report.checks.find(({ id }: { id: string }) => id === 'thin-line').outcome).toBe('pass');
    // Nothing was measured for it.
    expect(Object.keys(report.timings)).not.toContain('measureMs');
  });

  it('shows what other values of the shop would change, and saves them', async () => {
    if (!hasOracle('chromium')) return;
    await page.goto(`${review.url}/shop`);
    const limits = page.getByRole('group', { name: 'Limits' }).first();
    await limits.locator('summary').click();
    const margin = limits.getByLabel('Clear of the platen’s edge (mm)');
    await margin.fill('15 cm');
    await page.getByRole('button', { name: 'What would change' }).click();
    const preview = page.getByRole('region', { name: 'What would change on recent jobs' });
    await expect.poll(() => preview.textContent(), { timeout: 60_000 }).toContain('platen-overrun');
    await page.getByRole('button', { name: 'Save' }).click();
    await page.getByText('Saved.').waitFor();
    await page.reload();
    await expect.poll(() => margin.inputValue(), { timeout: 30_000 }).toBe('150');
    expect(await margin.isVisible()).toBe(true);
    expect((await ask('/api/shop')).history).toMatchObject([{ by: 'Mila' }]);
  });

  it('goes on sending where it stopped when the page was left meanwhile', async () => {
    if (!hasOracle('chromium')) return;
    const film = join(review.folder, 'banner.tif');
    writeFileSync(film, Buffer.alloc(3 * mostPieceBytes, 'II*\0'));
    await page.goto(review.url);
    let pieces = 0;
    await page.route('**/api/uploads/*', (route) =>
      route.request().method() === 'PATCH' && ++pieces > 2 ? route.abort() : route.continue(),
    );
    await page.getByLabel('Choose films').setInputFiles(film);
    await page.getByText('8.4 / 12.6 MB').waitFor();
    await page.unroute('**/api/uploads/*');
    await page.reload();
    const offsets: (string | undefined)[] = [];
    page.on('request', (request) => {
      if (request.method() === 'PATCH') offsets.push(request.headers()['upload-offset']);
    });
    const made = page.waitForResponse(
      (response) => new URL(response.url()).pathname === '/api/jobs' && response.request().method() === 'POST',
    );
    await page.getByLabel('Choose films').setInputFiles(film);
    expect((await made).ok()).toBe(true);
    expect(offsets).toEqual([String(2 * mostPieceBytes)]);
    const { origins } = await page.context().storageState();
    expect(origins.flatMap(({ localStorage }) => localStorage).filter(({ name }) => name.includes('upload'))).toEqual(
      [],
    );
  });

  it('lets whoever sits there go', async () => {
    if (!hasOracle('chromium')) return;
    await page.getByText('Settings').click();
    await page.getByRole('button', { name: 'Sign out' }).click();
    await page.getByRole('heading', { name: 'Sign in' }).waitFor();
    expect((await page.request.get(`${review.url}/api/jobs`)).status()).toBe(401);
  });
});
