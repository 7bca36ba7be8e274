import type { ReportJson } from '../report/reportJson.ts';
import { type ArchivedPlate, archiveTilePx } from './archiveFormat.ts';

/** The plates kept of a job: `plates.json`. */
export interface KeptPlates {
  readonly tileSidePx: number;
  /** In the order of the report. */
  readonly plates: readonly KeptPlate[];
}

export interface KeptPlate extends ArchivedPlate {
  readonly plateId: string;
  readonly inkId: string;
  readonly inkName: string;
  readonly displayHex: string;
  readonly filmId: string;
  /** Name of its file, beside this list. */
  readonly file: string;
}

export function keptPlatesOf(report: ReportJson, kept: ReadonlyMap<string, ArchivedPlate>): KeptPlates {
  return {
    tileSidePx: archiveTilePx,
    plates: report.plates.flatMap((plate): KeptPlate[] => {
      const facts = kept.get(plate.id);
      const ink = report.inks.find(({ id }) => id === plate.inkId);
      if (facts === undefined || ink === undefined) return [];
      return [
        {
          ...facts,
          plateId: plate.id,
          inkId: plate.inkId,
          inkName: ink.name,
          displayHex: ink.displayHex,
          filmId: plate.filmId,
          file: `${plate.id}.plate`,
        },
      ];
    }),
  };
}
