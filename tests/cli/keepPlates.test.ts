import { execFileSync } from 'node:child_process';
import { existsSync, mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { byteSourceOf } from '../../src/artwork/byteSource.ts';
import type { KeptPlates } from '../../src/plateArchive/keptPlates.ts';
import { PlateArchive } from '../../src/plateArchive/openArchive.ts';
import { bitCount } from '../../src/raster/bitCount.ts';
import type { ReportJson } from '../../src/report/reportJson.ts';
import { hasOracle } from '../support/oraclePrograms.ts';
import { root, runCli } from './runCli.ts';

let scratch: string;

beforeAll(() => {
  scratch = mkdtempSync(join(tmpdir(), 'plateglass-kept-'));
});
afterAll(() => rmSync(scratch, { recursive: true, force: true }));

describe('check --keep-plates', () => {
  it.skipIf(!hasOracle('convert'))('keeps the plates as ImageMagick reads their films', async () => {
    const job = join(root, 'fixtures/jobs/brass-band-films');
    runCli(['check', job, '--out', scratch, '--keep-plates', '--quiet']);
    const report = JSON.parse(readFileSync(join(scratch, 'report.json'), 'utf8')) as ReportJson;
    const kept = JSON.parse(readFileSync(join(scratch, 'plates/plates.json'), 'utf8')) as KeptPlates;
    expect(kept.plates.map(({ plateId }) => plateId)).toEqual(report.plates.map(({ id }) => id));
    for (const plate of kept.plates) {
      const film = report.films.find(({ id }) => id === plate.filmId)!;
      const archive = await PlateArchive.open(
        plate,
        byteSourceOf(plate.file, readFileSync(join(scratch, 'plates', plate.file))),
      );
      const opaque = bitCount((await archive.readBits(0, 0, plate.widthPx, plate.heightPx)).words);
      const meanOfDark = Number(
        execFileSync(
          'convert',
          [
            join(job, film.file),
            '-alpha',
            'off',
            '-colorspace',
            'Gray',
            '-threshold',
            '50%',
            '-negate',
            '-format',
            '%[fx:mean*w*h]',
            'info:',
          ],
          { encoding: 'utf8' },
        ),
      );
      expect(Math.abs(opaque - meanOfDark)).toBeLessThanOrEqual(1e-4 * meanOfDark);
    }
  });

  it('keeps none unless asked', () => {
    const folder = join(scratch, 'without');
    runCli(['check', join(root, 'fixtures/jobs/midsummer-tee'), '--out', folder, '--quiet']);
    expect(existsSync(join(folder, 'report.json'))).toBe(true);
    expect(existsSync(join(folder, 'plates'))).toBe(false);
  });
});
