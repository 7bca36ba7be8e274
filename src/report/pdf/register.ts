import type { CropPicture } from '../cropPicture.ts';
import { inkNameOf } from '../meetings.ts';
import type { PaintedReport } from '../paintedReport.ts';
import { registerArrows } from '../registerArrows.ts';
import { factsOfRegister, hasRegister, leadOfRegister, type RegisterPlate } from '../registerFacts.ts';
import type { ReportJson } from '../reportJson.ts';
import { drawDrawing } from './drawShapes.ts';
import { cropBlock, namedInks, stripWidthPt } from './findings.ts';
import { type Block, contentWidth, type Flow, gap, kept, paragraph, rule, sideBySide, stack } from './flow.ts';
import { body, claim, small } from './styles.ts';
import { plain, quiet, sectionHead } from './tables.ts';
import type { Typesetter } from './typeset.ts';

const termWidth = 70;
const cropGap = 10;

/** How the films lie to each other: each with its figures, arrows and marks. */
export function placeRegister(flow: Flow, { report, marks }: PaintedReport): void {
  if (!hasRegister(report)) return;
  const { type } = flow;
  const { referencePlateId, plates } = report.registration!;
  flow.place([
    ...sectionHead(type, 'Register', 'register'),
    paragraph(type, plain(leadOfRegister(report, '\u00a0')), body),
    ...plates.flatMap((plate) => plateBlocks(type, report, plate, marks?.get(plate.plateId) ?? [])),
  ]);
  const reference = marks?.get(referencePlateId) ?? [];
  if (reference.length === 0) return;
  const heading = kept(paragraph(type, [{ text: 'Marks of the first film', strong: true }], body));
  flow.place([gap(10), heading, cropRow(type, reference)]);
}

function plateBlocks(
  type: Typesetter,
  report: ReportJson,
  plate: RegisterPlate,
  crops: readonly CropPicture[],
): Block[] {
  const width = contentWidth - stripWidthPt - 24;
  const title = namedInks(report, [inkNameOf(report, plate.plateId)]).map((span) => ({ ...span, strong: true }));
  const words = [
    paragraph(type, title, claim, width),
    gap(2),
    ...factsOfRegister(report, plate, '\u00a0').map(({ term, value }) =>
      sideBySide([
        { block: paragraph(type, quiet(term), small, termWidth), left: 0 },
        { block: paragraph(type, plain(value), small, width - termWidth - 4), left: termWidth + 4 },
      ]),
    ),
  ];
  const items = [{ block: stack(words), left: 0 }];
  const arrows = registerArrows(report, plate);
  if (arrows) {
    items.push({
      block: {
        height: (stripWidthPt / arrows.width) * arrows.height,
        draw: (x, y) => {
          drawDrawing(type, arrows, x, y, stripWidthPt);
        },
      },
      left: contentWidth - stripWidthPt,
    });
  }
  return [rule(type, 6, 7), sideBySide(items), gap(4), ...(crops.length > 0 ? [cropRow(type, crops), gap(4)] : [])];
}

function cropRow(type: Typesetter, crops: readonly CropPicture[]): Block {
  const blocks = crops.map((crop) => cropBlock(type, crop));
  const step = (contentWidth + cropGap) / 4;
  return sideBySide(blocks.map((block, index) => ({ block, left: index * step })));
}
