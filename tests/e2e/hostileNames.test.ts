import { mkdirSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { launchBrowser, watched } from '../support/browser.ts';
import { hasOracle } from '../support/oraclePrograms.ts';
import { type ReviewUnderTest, startReview } from '../support/reviewServer.ts';

const turned = '\u202e';
const markup = '<img src=x onerror=alert(1)><script>alert(2)</script>';
/** Names that are markup, turn the writing round, or go on without a place to break. */
const inks = [`Coral ${markup}${turned}`, `Lagoon${'n'.repeat(150)}`] as const;
const escaped = (text: string) => text.replace(/&/g, '&amp;').replace(/</g, '&lt;').replace(/"/g, '&quot;');

function bunting(more: string): string {
  const ink = (name: string, left: number, colour: string) =>
    `<g id="${escaped(markup)}" data-ink="${escaped(name)}"><rect x="${left}" y="10" width="20" height="20" fill="${colour}"/></g>`;
  return `<svg xmlns="http://www.w3.org/2000/svg" width="80mm" height="60mm" viewBox="0 0 80 60">
    ${ink(inks[0], 10, '#c9304e')}${ink(inks[1], 40, '#1f8a9e')}${more}</svg>`;
}

describe('names that come with the files', () => {
  let review: ReviewUnderTest;
  let browser: Browser;
  let page: Page;

  beforeAll(async () => {
    if (!hasOracle('chromium')) return;
    review = await startReview();
    const folder = join(review.folder, 'films');
    mkdirSync(folder);
    const film = join(folder, '<b onclick=alert(3)>bunting<b>.svg');
    writeFileSync(join(folder, 'ticket.json'), JSON.stringify({ customer: `"><svg onload=alert(4)>${turned}` }));
    const files = [film, join(folder, 'ticket.json')];
    for (const more of ['', '<rect x="50" y="40" width="0.1" height="9" fill="#1f8a9e"/>']) {
      writeFileSync(film, bunting(more));
      await review.bring('<i>bunting</i>', files);
    }
    browser = await launchBrowser();
  });
  afterAll(async () => {
    await browser?.close();
    await review?.close();
  });

  it('stand on every page as they are written, run nothing, turn nothing round and fit', async () => {
    if (!hasOracle('chromium')) return;
    page = await browser.newPage({ viewport: { width: 768, height: 1000 }, reducedMotion: 'reduce' });
    const { troubles } = watched(page);
    const dialogs: string[] = [];
    page.on('dialog', (dialog) => {
      dialogs.push(dialog.message());
      void dialog.dismiss();
    });
    const pages = [
      { path: '/', waitFor: '.job-name', says: inks[0].replace(turned, '') },
      { path: '/jobs/1', waitFor: 'canvas.film', says: inks[0].replace(turned, '') },
      { path: '/jobs/1/compare/1/2', waitFor: '.worklist-body li', says: inks[1] },
      { path: '/jobs/1/ticket', waitFor: '.fold', says: '<i>bunting</i>' },
    ];
    for (const { path, waitFor, says } of pages) {
      await page.goto(`${review.url}${path}`);
      await page.locator(waitFor).first().waitFor();
      if (path === '/jobs/1') {
        await page.keyboard.press('n');
        await page.locator('.entry.current').waitFor();
      }
      const text = await page.locator('body').textContent();
      expect(text, path).toContain(says);
      expect(text, path).not.toContain(turned);
      expect(await page.title(), path).not.toContain(turned);
      expect(await page.locator('[onerror], [onload], [onclick], main script, main i').count(), path).toBe(0);
      const widest = await page.evaluate('document.documentElement.scrollWidth');
      expect(widest, `${path} is no wider than the window`).toBeLessThanOrEqual(768);
    }
    expect(dialogs).toEqual([]);
    expect(troubles).toEqual([]);
  });
});
