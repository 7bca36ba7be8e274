import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { chromium } from 'playwright-core';
import { describe, expect, it } from 'vitest';
import { paintReport } from '../../src/report/paintedReport.ts';
import { renderHtml } from '../../src/report/renderHtml.ts';
import { inspectionFixture } from '../support/inspectionFixture.ts';
import { hasOracle } from '../support/oraclePrograms.ts';

const quiet = [
  '--no-sandbox',
  '--disable-gpu',
  '--no-first-run',
  '--disable-background-networking',
  '--disable-component-update',
  '--disable-sync',
  '--disable-quic',
];

describe('the report in a browser', () => {
  it('opens from a folder, asks for nothing else, and fits a narrow and a wide window', async () => {
    if (!hasOracle('chromium')) return;
    const folder = mkdtempSync(join(tmpdir(), 'plateglass-page-'));
    const browser = await chromium.launch({ executablePath: '/usr/bin/chromium', args: quiet });
    try {
      const file = join(folder, 'report.html');
      writeFileSync(file, renderHtml(await paintReport(inspectionFixture())));
      const page = await browser.newPage();
      const asked: string[] = [];
      const troubles: string[] = [];
      page.on('request', (request) => asked.push(request.url()));
      page.on('console', (message) => troubles.push(message.text()));
      page.on('pageerror', (error) => troubles.push(error.message));
      for (const width of [500, 1100]) {
        await page.setViewportSize({ width, height: 900 });
        await page.goto(pathToFileURL(file).href);
        const [scrolled, inner] = (await page.evaluate(
          '[document.documentElement.scrollWidth, window.innerWidth]',
        )) as [number, number];
        expect(scrolled, `at ${width} px nothing is wider than the window`).toBeLessThanOrEqual(inner);
        expect(await page.locator('h1').first().textContent()).toContain('Not ready');
        const pictures = (await page.evaluate(
          '[...document.images].map((image) => image.complete && image.naturalWidth > 0)',
        )) as boolean[];
        expect(pictures.length).toBeGreaterThan(3);
        expect(pictures.every(Boolean)).toBe(true);
      }
      expect(asked.filter((url) => !url.startsWith('data:') && !url.startsWith(pathToFileURL(file).href))).toEqual([]);
      expect(troubles).toEqual([]);
    } finally {
      await browser.close();
      rmSync(folder, { recursive: true, force: true });
    }
  });
});
