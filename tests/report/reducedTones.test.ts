import { describe, expect, it } from 'vitest';
import type { ToneImage } from '../../src/report/pictures.ts';
import { reducedTones } from '../../src/report/reducedTones.ts';

const imageOf = (widthPx: number, heightPx: number, tones: number[], pitchXMm = 1, pitchYMm = 1): ToneImage => ({
  widthPx,
  heightPx,
  tones: Uint8Array.from(tones),
  pitchXMm,
  pitchYMm,
});

describe('tones on the grid of a picture', () => {
  it('are the mean of the pixels each covers', () => {
    // Means worked out by hand: (0 + 10 + 40 + 50) / 4, (20 + 30 + 60 + 70) / 4, and so on, halves rounded up.
    const image = imageOf(4, 4, [0, 10, 20, 30, 40, 50, 60, 70, 1, 1, 255, 255, 0, 0, 255, 255]);
    expect([...reducedTones(image, { widthPx: 2, heightPx: 2, pitchMm: 2 })]).toEqual([25, 45, 1, 255]);
  });

  it('are clear where the image has ended', () => {
    const image = imageOf(2, 2, [9, 9, 9, 9]);
    expect([...reducedTones(image, { widthPx: 3, heightPx: 3, pitchMm: 1 })]).toEqual([9, 9, 0, 9, 9, 0, 0, 0, 0]);
  });

  it('follow both pitches of an image whose pixels are not square', () => {
    const image = imageOf(4, 2, [0, 100, 200, 200, 8, 8, 8, 8], 1, 2);
    expect([...reducedTones(image, { widthPx: 2, heightPx: 2, pitchMm: 2 })]).toEqual([50, 200, 8, 8]);
    expect([...reducedTones(image, { widthPx: 4, heightPx: 4, pitchMm: 1 })].slice(0, 4)).toEqual([0, 100, 200, 200]);
  });

  it('keep to the grid asked for when one image is laid on several', () => {
    const image = imageOf(8, 8, [...new Array(32).fill(0), ...new Array(32).fill(200)]);
    expect([...reducedTones(image, { widthPx: 1, heightPx: 2, pitchMm: 4 })]).toEqual([0, 200]);
    expect([...reducedTones(image, { widthPx: 2, heightPx: 2, pitchMm: 4 })]).toEqual([0, 0, 200, 200]);
    expect([...reducedTones(image, { widthPx: 1, heightPx: 1, pitchMm: 8 })]).toEqual([100]);
  });
});
