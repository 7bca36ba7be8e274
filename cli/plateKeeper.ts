import { mkdir, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import type { Keep } from '../src/inspect/inspectJob.ts';
import { factsFileName } from '../src/inspect/measuredFacts.ts';
import type { ArchivedPlate } from '../src/plateArchive/archiveFormat.ts';
import { keptPlatesOf } from '../src/plateArchive/keptPlates.ts';
import type { ReportJson } from '../src/report/reportJson.ts';

export interface PlateKeeper extends Keep {
  /** Writes the list of what was kept, when there is a report to go with it. */
  finish(report: ReportJson): Promise<void>;
}

/**
 * Keeps the plates of a job in the folder `plates` of its report, one file each, `plates.json` and what was measured
 * beside them.
 */
export function plateKeeper(reportFolder: string, program: string): PlateKeeper {
  const folder = join(reportFolder, 'plates');
  const kept = new Map<string, ArchivedPlate>();
  return {
    program,
    plate: async (plateId, { facts, bytes }) => {
      await mkdir(folder, { recursive: true });
      await writeFile(join(folder, `${plateId}.plate`), bytes);
      kept.set(plateId, facts);
    },
    facts: async (packed) => {
      await mkdir(folder, { recursive: true });
      await writeFile(join(folder, factsFileName), packed);
    },
    finish: async (report) => {
      if (kept.size === 0) return;
      const list = keptPlatesOf(report, kept);
      await writeFile(join(folder, 'plates.json'), `${JSON.stringify(list, null, 2)}\n`);
    },
  };
}
