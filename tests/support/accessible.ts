import axe from 'axe-core';
import type { Page } from 'playwright-core';
import { expect } from 'vitest';

/** Fails with every rule of WCAG 2.2 A and AA, and of good practice, that the page breaks as it is now (axe-core). */
export async function expectAccessible(page: Page, where: string): Promise<void> {
  await page.evaluate(axe.source);
  const broken = (await page.evaluate(
    `axe.run({ runOnly: ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa', 'best-practice'] }).then(({ violations }) =>
      violations.flatMap(({ id, nodes }) => nodes.map(({ html, failureSummary }) => id + ': ' + html.slice(0, 160) + ' ' + failureSummary)))`,
  )) as string[];
  expect(broken, where).toEqual([]);
}
