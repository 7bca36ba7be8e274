import type { Page } from 'playwright-core';

/** What the read-out says, and what the canvas shows; null beside the film. */
export async function pixelUnderPointer(
  page: Page,
  x: number,
  y: number,
): Promise<{ column: number; row: number; isDark: boolean } | null> {
  await page.mouse.move(x, y);
  await page.waitForTimeout(220);
  const said = /column (\d+), row (\d+)/.exec(await page.locator('.readout').innerText());
  if (said === null) return null;
  const lightness = (await page.evaluate(`(() => {
    const canvas = document.querySelector('canvas.film');
    const box = canvas.getBoundingClientRect();
    return canvas.getContext('2d').getImageData(${x} - box.left, ${y} - box.top, 1, 1).data[0];
  })()`)) as number;
  return { column: Number(said[1]), row: Number(said[2]), isDark: lightness < 128 };
}
