import sharp from 'sharp';
import { describe, expect, it } from 'vitest';
import type { Verdict } from '../../src/findings/outcome.ts';
import { verdictSign, verdictSignSvg } from '../../src/report/verdictSign.ts';

const verdicts: Verdict[] = ['pass', 'needsReview', 'fail', 'couldNotRun'];

async function pixels(verdict: Verdict, sidePx: number): Promise<Uint8Array> {
  const svg = verdictSignSvg(verdict)
    .replace('<svg', `<svg xmlns="http://www.w3.org/2000/svg" width="${sidePx}" height="${sidePx}"`)
    .replaceAll(/var\(--\w+,(#\w+)\)/g, '$1');
  return sharp(Buffer.from(svg)).flatten({ background: '#ffffff' }).greyscale().raw().toBuffer();
}

describe('the verdict sign', () => {
  it('is told apart by shape alone at 12 px', async () => {
    const drawn = await Promise.all(verdicts.map((verdict) => pixels(verdict, 12)));
    for (let a = 0; a < drawn.length; a += 1) {
      expect(Math.min(...drawn[a])).toBeLessThan(140);
      for (let b = a + 1; b < drawn.length; b += 1) {
        const differing = drawn[a].filter((tone, index) => Math.abs(tone - drawn[b][index]) > 64).length;
        expect(differing, `${verdicts[a]} and ${verdicts[b]}`).toBeGreaterThan(16);
      }
    }
  });

  it('is drawn in one colour and says its word', () => {
    for (const verdict of verdicts) {
      const tones = new Set(
        verdictSign(verdict).shapes.map((shape) => (shape.kind === 'path' ? shape.stroke : shape.tone)),
      );
      expect([...tones]).toEqual(['text']);
    }
    expect(verdictSignSvg('needsReview')).toContain('aria-label="Look first"');
  });
});
