import { chartOfHalftone, factsOfHalftone, leadOfHalftones, shownHalftones } from '../halftoneFacts.ts';
import { inkNameOf } from '../meetings.ts';
import type { ReportJson } from '../reportJson.ts';
import { toneChart } from '../toneChart.ts';
import { paragraph } from './blocks.ts';
import { factFigure } from './factFigure.ts';
import { type Flow, kept } from './flow.ts';
import { body } from './styles.ts';
import { plain, sectionHead } from './tables.ts';

/** The halftones that were read, each with its figures and its tones. */
export function placeHalftones(flow: Flow, report: ReportJson): void {
  const shown = shownHalftones(report);
  if (shown.length === 0) return;
  const { type } = flow;
  flow.place([
    ...sectionHead(type, 'Halftones', 'halftones'),
    kept(paragraph(type, plain(leadOfHalftones(report)), body)),
    ...shown.flatMap((one) =>
      factFigure(type, report, {
        inkNames: [inkNameOf(report, one.plate.id)],
        level: 'H3',
        facts: factsOfHalftone(one, '\u00a0'),
        drawing: toneChart(chartOfHalftone(one)),
      }),
    ),
  ]);
}
