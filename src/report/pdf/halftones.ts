import { chartOfHalftone, factsOfHalftone, leadOfHalftones, partKey, shownHalftones } from '../halftoneFacts.ts';
import { inkNameOf } from '../meetings.ts';
import type { PaintedReport } from '../paintedReport.ts';
import { toneChart } from '../toneChart.ts';
import { paragraph } from './blocks.ts';
import { factFigure } from './factFigure.ts';
import { picturesRow } from './findings.ts';
import { type Flow, gap, kept } from './flow.ts';
import { body } from './styles.ts';
import { plain, sectionHead } from './tables.ts';

/** The halftones that were read, each with its figures and its tones. */
export function placeHalftones(flow: Flow, { report, spectra, tints }: PaintedReport): void {
  const shown = shownHalftones(report);
  if (shown.length === 0) return;
  const { type } = flow;
  flow.place([
    ...sectionHead(type, 'Halftones', 'halftones'),
    kept(paragraph(type, plain(leadOfHalftones(report)), body)),
    ...shown.flatMap((one) => {
      const figure = factFigure(type, report, {
        inkNames: [inkNameOf(report, one.plate.id)],
        level: 'H3',
        facts: factsOfHalftone(one, '\u00a0'),
        drawing: toneChart(chartOfHalftone(one)),
      });
      const key = partKey(one.plate.id, one.region);
      const pictures = [tints?.get(key), spectra?.get(key)].filter((picture) => picture !== undefined);
      return pictures.length === 0 ? figure : [...figure, picturesRow(type, pictures), gap(4)];
    }),
  ]);
}
