import { mkdir, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import type { ArchivedPlate } from '../src/plateArchive/archiveFormat.ts';
import type { PackedPlate } from '../src/plateArchive/archivePlate.ts';
import { keptPlatesOf } from '../src/plateArchive/keptPlates.ts';
import type { ReportJson } from '../src/report/reportJson.ts';

export interface PlateKeeper {
  keep(plateId: string, packed: PackedPlate): Promise<void>;
  /** Writes the list of what was kept, when there is a report to go with it. */
  finish(report: ReportJson): Promise<void>;
}

/** Keeps the plates of a job in the folder `plates` of its report, one file each, and `plates.json` beside them. */
export function plateKeeper(reportFolder: string): PlateKeeper {
  const folder = join(reportFolder, 'plates');
  const kept = new Map<string, ArchivedPlate>();
  return {
    keep: async (plateId, { facts, bytes }) => {
      await mkdir(folder, { recursive: true });
      await writeFile(join(folder, `${plateId}.plate`), bytes);
      kept.set(plateId, facts);
    },
    finish: async (report) => {
      if (kept.size === 0) return;
      const list = keptPlatesOf(report, kept);
      await writeFile(join(folder, 'plates.json'), `${JSON.stringify(list, null, 2)}\n`);
    },
  };
}
