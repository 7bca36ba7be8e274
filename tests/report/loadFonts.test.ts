import { describe, expect, it } from 'vitest';
import { loadFont } from '../../src/report/assets/loadFonts.ts';
import { woffToSfnt } from '../../src/report/assets/woffToSfnt.ts';

describe('the type for PDF', () => {
  it.each(['latin', 'latin-ext', 'greek', 'cyrillic'] as const)('is unpacked table by table: %s', (subset) => {
    const sfnt = loadFont(subset, 400, 'sfnt');
    const tables = sfnt.readUInt16BE(4);
    expect(tables).toBeGreaterThan(8);
    for (let index = 0; index < tables; index += 1) {
      const at = 12 + 16 * index;
      const [checksum, offset, length] = [4, 8, 12].map((field) => sfnt.readUInt32BE(at + field));
      const tag = sfnt.toString('latin1', at, at + 4);
      // OpenType, "Calculating checksums": the sum of the table's 32-bit words; head's own adjustment counts as 0.
      let sum = 0;
      for (let word = 0; word < length; word += 4) {
        if (tag === 'head' && word === 8) continue;
        sum = (sum + sfnt.readUInt32BE(offset + word)) >>> 0;
      }
      expect(sum, tag).toBe(checksum);
    }
  });

  it('is refused when it is not WOFF', () => {
    expect(() => woffToSfnt(Buffer.alloc(64))).toThrow(RangeError);
  });
});
