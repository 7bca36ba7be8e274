import { pitchUmFromThreadsPerCm } from '../units/lengths.ts';
import { nominalOpeningUm, openAreaPercent } from './meshGeometry.ts';

/** A row of a data sheet as a shop types it in; what the sheet does not give stays out. */
export interface DataSheetRow {
  readonly threadsPerCm: number;
  readonly threadUm: number;
  readonly openingUm?: number;
  readonly openAreaPercent?: number;
  readonly fabricThicknessUm?: number;
  readonly inkVolumeCm3PerM2?: number;
}

export interface RowProblem {
  readonly key: keyof DataSheetRow;
  readonly expected: string;
  readonly received: string;
}

/** Makers who measure publish openings up to 9 µm under the formula; makers who calculate publish the formula. */
export const openingUnderFormulaUm = 9;
export const openingOverFormulaUm = 1;
const openAreaTolerancePoints = 1;
const inkVolumeToleranceCm3PerM2 = 1;
const thicknessPerThreadRange = [1.4, 1.8] as const;

/**
 * Whether the numbers of a data sheet can describe one fabric; every problem at once, none when they can.
 * The tolerances take in every one of thirteen published rows compared.
 */
export function validateMeshRow(row: DataSheetRow): readonly RowProblem[] {
  const problems: RowProblem[] = [];
  const pitchUm = pitchUmFromThreadsPerCm(row.threadsPerCm);
  if (row.threadUm >= pitchUm) {
    return [
      {
        key: 'threadUm',
        expected: `a thread thinner than the ${pitchUm.toFixed(0)} µm from thread to thread at ${row.threadsPerCm}/cm`,
        received: `${row.threadUm}`,
      },
    ];
  }
  const nominalUm = nominalOpeningUm(row.threadsPerCm, row.threadUm);
  const check = (key: keyof DataSheetRow, low: number, high: number, what: string): void => {
    const value = row[key];
    // A hair of slack, so that a limit meant to be inclusive is not lost to rounding.
    if (value === undefined || (value >= low - 1e-9 && value <= high + 1e-9)) return;
    problems.push({ key, expected: `${low.toFixed(1)} to ${high.toFixed(1)} (${what})`, received: `${value}` });
  };
  const lowOpeningUm = Math.max(0, nominalUm - openingUnderFormulaUm);
  check('openingUm', lowOpeningUm, nominalUm + openingOverFormulaUm, 'pitch less thread, or what sheets measure');
  const openingUm = row.openingUm ?? nominalUm;
  const openPercent = openAreaPercent({ threadsPerCm: row.threadsPerCm, openingUm });
  check(
    'openAreaPercent',
    openPercent - openAreaTolerancePoints,
    openPercent + openAreaTolerancePoints,
    'square of opening over pitch',
  );
  const [low, high] = thicknessPerThreadRange;
  check('fabricThicknessUm', low * row.threadUm, high * row.threadUm, '1.4 to 1.8 threads');
  if (row.fabricThicknessUm !== undefined) {
    const volume = (row.fabricThicknessUm * (row.openAreaPercent ?? openPercent)) / 100;
    check(
      'inkVolumeCm3PerM2',
      volume - inkVolumeToleranceCm3PerM2,
      volume + inkVolumeToleranceCm3PerM2,
      'fabric thickness times open area',
    );
  }
  return problems;
}
