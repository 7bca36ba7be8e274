import type { CropPicture } from '../cropPicture.ts';
import { inkNameOf } from '../meetings.ts';
import type { PaintedReport } from '../paintedReport.ts';
import { registerArrows } from '../registerArrows.ts';
import { factsOfRegister, hasRegister, leadOfRegister, type RegisterPlate } from '../registerFacts.ts';
import type { ReportJson } from '../reportJson.ts';
import { paragraph } from './blocks.ts';
import { factFigure } from './factFigure.ts';
import { picturesRow } from './findings.ts';
import { type Block, contentWidth, type Flow, gap, kept } from './flow.ts';
import { body } from './styles.ts';
import { plain, sectionHead } from './tables.ts';
import type { Typesetter } from './typeset.ts';

/** How the films lie to each other: each with its figures, arrows and marks. */
export function placeRegister(flow: Flow, { report, marks }: PaintedReport): void {
  if (!hasRegister(report)) return;
  const { type } = flow;
  const { referencePlateId, plates } = report.registration!;
  flow.place([
    ...sectionHead(type, 'Register', 'register'),
    kept(paragraph(type, plain(leadOfRegister(report, '\u00a0')), body)),
    ...plates.flatMap((plate) => plateBlocks(type, report, plate, marks?.get(plate.plateId) ?? [])),
  ]);
  const reference = marks?.get(referencePlateId) ?? [];
  if (reference.length === 0) return;
  const heading = kept(paragraph(type, [{ text: 'Marks of the first film', strong: true }], body, contentWidth, 'H3'));
  flow.place([gap(10), heading, picturesRow(type, reference)]);
}

function plateBlocks(
  type: Typesetter,
  report: ReportJson,
  plate: RegisterPlate,
  crops: readonly CropPicture[],
): Block[] {
  const figure = factFigure(type, report, {
    inkNames: [inkNameOf(report, plate.plateId)],
    level: 'H3',
    facts: factsOfRegister(report, plate, '\u00a0'),
    drawing: registerArrows(report, plate),
  });
  return [...figure, ...(crops.length > 0 ? [picturesRow(type, crops), gap(4)] : [])];
}
