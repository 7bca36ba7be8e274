import type { ReportJson } from '../../../../src/report/reportJson.ts';

export interface MeshOnFilm {
  readonly pitchMm: number;
  readonly threadMm: number;
  readonly threadsPerCm: number;
  readonly threadUm: number;
}

/** The mesh of an ink, at the scale of the film; null when none is known. */
export function meshOnFilm(report: ReportJson, inkName: string): MeshOnFilm | null {
  const mesh = report.ticket.screens.find(({ ink }) => ink === inkName)?.mesh ?? null;
  if (mesh === null) return null;
  const { threadsPerCm, threadUm } = mesh;
  return { pitchMm: 10 / threadsPerCm, threadMm: threadUm / 1000, threadsPerCm, threadUm };
}
