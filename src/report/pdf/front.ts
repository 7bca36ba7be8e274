import { inkHex, platesInPrintOrder, safeHex } from '../composite.ts';
import { dataUri } from '../dataUri.ts';
import { type Digest, jobSizeMm, meshOf } from '../digest.ts';
import { fixed, meshWords, sizeWords, thinSpace } from '../format.ts';
import { factsOf, summaryOf } from '../frontFacts.ts';
import type { PaintedReport } from '../paintedReport.ts';
import type { Picture } from '../paintLayers.ts';
import type { ReportJson } from '../reportJson.ts';
import { verdictSign } from '../verdictSign.ts';
import { verdictWords } from '../words.ts';
import { figure, listedFact, paragraph, sideBySide, stack, tagged } from './blocks.ts';
import { drawDrawing } from './drawShapes.ts';
import { type Block, contentWidth, gap } from './flow.ts';
import { body, job, small, verdict } from './styles.ts';
import type { Span, Typesetter } from './typeset.ts';

const shirtWidth = 236;
const slipGap = 17;

/** Verdict, sums, the composite with the job's facts beside it, the films as slips. */
export function frontBlocks(type: Typesetter, painted: PaintedReport, digest: Digest, date: string | null): Block[] {
  const { report, composite } = painted;
  const words = paragraph(
    type,
    [{ text: verdictWords[report.verdict], strong: true }],
    verdict,
    contentWidth - 60,
    'H1',
  );
  const sign: Block = {
    height: 36,
    draw: (x, y) => {
      type.structure.decoration(() => drawDrawing(type, verdictSign(report.verdict), x, y, 36));
      words.draw(x + 46, y + 1);
    },
  };
  const facts = factBlocks(type, report, date, composite ? contentWidth - shirtWidth - 26 : contentWidth);
  const summary = summaryBlocks(type, report, digest, composite ? contentWidth - shirtWidth - 26 : contentWidth);
  const beside = stack([tagged(type, 'L', stack(facts)), ...summary]);
  const main = composite
    ? sideBySide([
        { block: shirtBlock(type, composite, report), left: 0 },
        { block: beside, left: shirtWidth + 26 },
      ])
    : stack([
        paragraph(type, [{ text: 'There is nothing to show: no film was drawn.', tone: 'quiet' }], body),
        gap(8),
        beside,
      ]);
  const name = paragraph(type, [{ text: report.job.name.slice(0, 240) }], job);
  return [sign, gap(7), name, gap(12), main, gap(18), ...slipRows(type, painted)];
}

function shirtBlock(type: Typesetter, picture: Picture, report: ReportJson): Block {
  const padX = shirtWidth * 0.1;
  const width = shirtWidth - 2 * padX;
  const height = Math.min(330, (width * picture.heightMm) / picture.widthMm);
  const drawnWidth = (height * picture.widthMm) / picture.heightMm;
  const padY = 20;
  const size = jobSizeMm(report);
  const words = size ? `On the shirt, ${sizeWords(size.widthMm, size.heightMm)}` : 'On the shirt';
  const caption = paragraph(type, [{ text: words, tone: 'quiet' }], small, shirtWidth, 'Caption');
  const frame = { width: shirtWidth, height: height + 2 * padY };
  const shirt = figure(type, frame, 'All inks on the shirt colour, in the order of the plan', (x, y) => {
    type.doc.rect(x, y, frame.width, frame.height).fill(safeHex(report.ticket.garmentHex));
    type.doc.image(dataUri(picture), x + (shirtWidth - drawnWidth) / 2, y + padY, { width: drawnWidth, height });
  });
  return stack([shirt, gap(5), caption]);
}

function factBlocks(type: Typesetter, report: ReportJson, date: string | null, width: number): Block[] {
  return factsOf(report, date).map(({ term, value, swatchHex }) =>
    listedFact(
      type,
      [{ text: term, tone: 'quiet' }],
      [{ text: value, swatchHex: swatchHex ? safeHex(swatchHex) : undefined }],
      body,
      { term: 68, all: width },
    ),
  );
}

function summaryBlocks(type: Typesetter, report: ReportJson, digest: Digest, width: number): Block[] {
  return summaryOf(report, digest).flatMap(({ heading, goTo, lines, more }) => [
    gap(10),
    paragraph(type, [{ text: heading, strong: true, goTo }], body, width),
    ...lines.map((line) => {
      const spans: Span[] = [{ text: line.title, goTo: line.goTo ?? undefined }];
      const rest = [line.inks.slice(0, 80), line.reading].filter((part) => part !== '').join(', ');
      if (rest !== '') spans.push({ text: ` ${rest}`, tone: 'quiet' });
      return paragraph(type, spans, small, width);
    }),
    ...(more === '' ? [] : [paragraph(type, [{ text: more, tone: 'quiet' }], small, width)]),
  ]);
}

function slipRows(type: Typesetter, { report, slips }: PaintedReport): Block[] {
  const plates = platesInPrintOrder(report);
  const perRow = plates.length > 5 ? 6 : 5;
  const slipWidth = (contentWidth - (perRow - 1) * slipGap) / perRow;
  const blocks = plates.map((plate) => {
    const name = report.inks.find((ink) => ink.id === plate.inkId)?.name ?? plate.id;
    const mesh = meshOf(report, name);
    const covers = `covers ${fixed(plate.coveragePercent, 1)}${thinSpace}%${plate.verified ? '' : ', not verified'}`;
    const words = stack([
      paragraph(
        type,
        [{ text: name.slice(0, 80), strong: true, swatchHex: safeHex(inkHex(report, plate.inkId)) }],
        small,
        slipWidth,
      ),
      paragraph(type, [{ text: mesh ? meshWords(mesh) : 'no mesh known', tone: 'quiet' }], small, slipWidth),
      paragraph(type, [{ text: covers, tone: 'quiet' }], small, slipWidth),
    ]);
    return slipBlock(type, slips.get(plate.id), `Film of ${name}`, words, slipWidth);
  });
  const rows: Block[] = [];
  for (let start = 0; start < blocks.length; start += perRow) {
    const row = blocks
      .slice(start, start + perRow)
      .map((block, index) => ({ block, left: index * (slipWidth + slipGap) }));
    rows.push(sideBySide(row), gap(12));
  }
  return rows;
}

function slipBlock(
  type: Typesetter,
  picture: Picture | undefined,
  label: string,
  words: Block,
  slipWidth: number,
): Block {
  const slipHeight = slipWidth * 1.08;
  const film = figure(type, { width: slipWidth, height: slipHeight }, label, (x, y) => {
    const { doc } = type;
    doc.lineWidth(0.6).rect(x, y, slipWidth, slipHeight).fillAndStroke('#fafaf4', '#b9bdb9');
    if (picture)
      doc.image(dataUri(picture), x + 4, y + 4, {
        fit: [slipWidth - 8, slipHeight - 8],
        align: 'center',
        valign: 'center',
      });
  });
  return stack([film, gap(5), words]);
}
