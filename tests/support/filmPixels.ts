import type { Page } from 'playwright-core';

/** What the read-out says, and what the canvas shows; null beside the film. */
export async function pixelUnderPointer(
  page: Page,
  x: number,
  y: number,
): Promise<{ column: number; row: number; isDark: boolean } | null> {
  await page.mouse.move(x, y);
  // By the page's own clock: the read-out follows 80 ms after the pointer, however long the page takes for that.
  const said = /column (\d+), row (\d+)/.exec(await later(page, `document.querySelector('.readout').innerText`));
  if (said === null) return null;
  const lightness = (await page.evaluate(`(() => {
    const canvas = document.querySelector('canvas.film');
    const box = canvas.getBoundingClientRect();
    return canvas.getContext('2d').getImageData(${x} - box.left, ${y} - box.top, 1, 1).data[0];
  })()`)) as number;
  return { column: Number(said[1]), row: Number(said[2]), isDark: lightness < 128 };
}

/** What an expression gives in the page once timers of 80 ms that run there have ended and what they changed is drawn. */
function later(page: Page, expression: string): Promise<string> {
  const afterFrames = `requestAnimationFrame(() => requestAnimationFrame(() => done(${expression})))`;
  return page.evaluate(`new Promise((done) => setTimeout(() => ${afterFrames}, 120))`);
}
