import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { PlateBuilder } from '../../src/plates/plateBuilder.ts';
import { bitAt } from '../../src/raster/bitPlane.ts';
import { toneAt } from '../../src/raster/tonePlane.ts';

const gridOf = (widthPx: number, heightPx: number) => ({ widthPx, heightPx, pitchXMm: 0.1, pitchYMm: 0.1 });

describe('PlateBuilder', () => {
  it('keeps every tone, bit and count of random rows, whatever the size and the strips', () => {
    const runs = fc.array(
      fc.record({
        tone: fc.constantFrom(0, 0, 255, 255, 1, 100, 127, 128, 254),
        length: fc.integer({ min: 1, max: 400 }),
      }),
      { minLength: 1, maxLength: 200 },
    );
    fc.assert(
      fc.property(
        fc.integer({ min: 1, max: 300 }),
        fc.integer({ min: 1, max: 300 }),
        fc.integer({ min: 1, max: 90 }),
        runs,
        (widthPx, heightPx, stripRows, pattern) => {
          const tones = new Uint8Array(widthPx * heightPx);
          for (let at = 0, run = 0; at < tones.length; run++) {
            const { tone, length } = pattern[run % pattern.length];
            tones.fill(tone, at, at + length);
            at += length;
          }
          const builder = new PlateBuilder(gridOf(widthPx, heightPx));
          for (let top = 0; top < heightPx; top += stripRows) {
            const rows = Math.min(stripRows, heightPx - top);
            builder.addTones(tones.subarray(top * widthPx, (top + rows) * widthPx), rows);
          }
          const plate = builder.finish();
          // The same rows laid out as the builder holds them are packed where they lie.
          const stridePx = 64 * Math.ceil(widthPx / 64);
          const spaced = new Uint8Array(stridePx * heightPx);
          for (let row = 0; row < heightPx; row++)
            spaced.set(tones.subarray(row * widthPx, (row + 1) * widthPx), row * stridePx);
          const inPlace = new PlateBuilder(gridOf(widthPx, heightPx));
          inPlace.addTones(spaced, heightPx, stridePx);
          expect(inPlace.finish()).toEqual(plate);
          const counts = new Float64Array(256);
          for (const tone of tones) counts[tone]++;
          expect(plate.toneHistogram).toEqual(counts);
          expect(plate.tone === null).toBe(tones.every((tone) => tone === 0 || tone === 255));
          for (let row = 0; row < heightPx; row++) {
            for (let column = 0; column < widthPx; column++) {
              const tone = tones[row * widthPx + column];
              if (bitAt(plate.bits, column, row) !== (tone >= 128 ? 1 : 0)) throw new Error(`bit ${column}, ${row}`);
              if (plate.tone !== null && toneAt(plate.tone, column, row) !== tone)
                throw new Error(`tone ${column}, ${row}`);
            }
          }
        },
      ),
      { numRuns: 40 },
    );
  });

  it('takes rows of tones and of bits by turns, and knows clear and opaque tiles of either', () => {
    const [widthPx, heightPx] = [300, 300];
    const tones = new Uint8Array(widthPx * heightPx);
    for (let row = 0; row < heightPx; row++) {
      for (let column = 0; column < widthPx; column++) {
        const inSquare = row >= 128 && column < 280;
        tones[row * widthPx + column] = inSquare ? 255 : row < 20 && column < 40 ? 90 : 0;
      }
    }
    const byTones = new PlateBuilder(gridOf(widthPx, heightPx));
    byTones.addTones(tones, heightPx);
    const byTurns = new PlateBuilder(gridOf(widthPx, heightPx));
    byTurns.addTones(tones.subarray(0, 128 * widthPx), 128);
    const words = new Uint32Array(172 * 10);
    for (let row = 0; row < 172; row++) {
      for (let column = 0; column < 280; column++) words[row * 10 + (column >> 5)] |= 1 << (column & 31);
    }
    byTurns.addBits(words, 172);
    expect(byTurns.finish()).toEqual(byTones.finish());
  });

  it('counts packed rows and needs no tones for them', () => {
    const builder = new PlateBuilder(gridOf(70, 3));
    const words = new Uint32Array(3 * 4);
    words[0] = 0xffffffff;
    words[1] = 0x1;
    words[9] = 0x80000000;
    builder.addBits(words.subarray(0, 4), 1);
    builder.addBits(words.subarray(4), 2);
    const plate = builder.finish();
    expect(plate.tone).toBeNull();
    expect(plate.toneHistogram[255]).toBe(34);
    expect(plate.toneHistogram[0]).toBe(210 - 34);
    expect(bitAt(plate.bits, 63, 2)).toBe(1);
  });

  it('refuses to finish a plate with rows missing', () => {
    expect(() => new PlateBuilder(gridOf(8, 2)).finish()).toThrow('2 rows was given 0');
  });

  it('hardens soft edges of art drawn with hard ones, and leaves tints alone', () => {
    const grid = gridOf(300, 300);
    const tones = new Uint8Array(300 * 300);
    for (let row = 40; row < 60; row++) tones.fill(255, row * 300 + 40, row * 300 + 60);
    tones[50 * 300 + 39] = 200; // a soft pixel beside the square, nearer to opaque
    tones[50 * 300 + 60] = 90; // and one nearer to clear
    const hard = new PlateBuilder(grid, true);
    hard.addTones(tones, 300);
    const plate = hard.finish();
    expect(plate.tone).toBeNull();
    expect(plate.toneHistogram[255]).toBe(401);
    expect(plate.toneHistogram[0]).toBe(90_000 - 401);
    expect(bitAt(plate.bits, 39, 50)).toBe(1);
    const soft = new PlateBuilder(grid);
    soft.addTones(tones, 300);
    expect(soft.finish().tone).not.toBeNull();

    tones.fill(77, 200 * 300 + 200, 200 * 300 + 203); // a tint, however small, touches no opaque pixel
    const tinted = new PlateBuilder(grid, true);
    tinted.addTones(tones, 300);
    const withTint = tinted.finish();
    expect(withTint.toneHistogram[77]).toBe(3);
    expect(withTint.tone === null ? null : toneAt(withTint.tone, 201, 200)).toBe(77);
  });
});
