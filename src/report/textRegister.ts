import { fixed } from './format.ts';
import { brokenLines, clipped } from './lineBreaks.ts';
import { inkNameOf } from './meetings.ts';
import { hasRegister, type RegisterPlate } from './registerFacts.ts';
import type { ReportJson } from './reportJson.ts';
import { shownText } from './words.ts';

/** More films than these are counted, not listed. */
const mostFilms = 4;

/** How the films lie to the first, for a terminal: the worst a line each, and how many more there are. */
export function registerLines(report: ReportJson, columns: number): string[] {
  if (!hasRegister(report)) return [];
  const { referencePlateId, plates } = report.registration!;
  const worst = (plate: RegisterPlate) => plate.worstOnArt?.displacementMm ?? plate.worstOffsetMm;
  const sorted = [...plates].sort((a, b) => worst(b) - worst(a));
  const nameOf = (plate: RegisterPlate) => shownText(inkNameOf(report, plate.plateId));
  const shown = sorted.slice(0, mostFilms);
  const indent = Math.min(Math.max(...shown.map((plate) => nameOf(plate).length)), Math.floor(columns / 3)) + 4;
  const lines = shown.flatMap((plate) =>
    brokenLines(wordsOf(plate), columns, `  ${clipped(nameOf(plate), indent - 4)}`.padEnd(indent), ' '.repeat(indent)),
  );
  const more = sorted.length - shown.length;
  const first = clipped(shownText(inkNameOf(report, referencePlateId)), Math.floor(columns / 2));
  return [
    ...brokenLines(`register on ${first}`, columns, '  '),
    ...lines,
    ...(more > 0 ? [`${' '.repeat(indent)}and ${more} more in the report`] : []),
  ];
}

function wordsOf(plate: RegisterPlate): string {
  const parts = [`${fixed(plate.dxMm, 2)} mm across, ${fixed(plate.dyMm, 2)} mm down`];
  if (plate.rotationDeg !== null) parts.push(`turned ${fixed(plate.rotationDeg, 3)}°`);
  if (plate.scaleX !== null && plate.scaleY !== null) {
    const percent = (value: number) => `${fixed(100 * value, 3)} %`;
    parts.push(
      plate.scaleX === plate.scaleY
        ? `scale ${percent(plate.scaleX)}`
        : `scale ${percent(plate.scaleX)} by ${percent(plate.scaleY)}`,
    );
  }
  if (plate.movedMark !== null) parts.push(`one mark moved by ${fixed(plate.movedMark.displacementMm, 2)} mm`);
  if (plate.worstOnArt !== null) parts.push(`up to ${fixed(plate.worstOnArt.displacementMm, 2)} mm on the art`);
  if (plate.marksUsed === 0) parts.push('by the outlines of the art');
  return parts.join('; ');
}
