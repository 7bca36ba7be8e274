import { digestOf } from './digest.ts';
import type { PaintedReport } from './paintedReport.ts';
import { paragraph, rule } from './pdf/blocks.ts';
import { placeDecisions } from './pdf/decisions.ts';
import { findingBlocks } from './pdf/findings.ts';
import { contentWidth, Flow, gap, marginX, pageHeight, pageWidth } from './pdf/flow.ts';
import { frontBlocks } from './pdf/front.ts';
import { placeHalftones } from './pdf/halftones.ts';
import { placeMeetings } from './pdf/meetings.ts';
import { openDocument } from './pdf/openDocument.ts';
import { placeRegister } from './pdf/register.ts';
import { body, claim } from './pdf/styles.ts';
import { placeError, placeFine, placeNotChecked, placePress, placeProvenance, sectionHead } from './pdf/tables.ts';
import { Typesetter } from './pdf/typeset.ts';
import { timingWords } from './provenance.ts';
import type { PaperOptions } from './renderHtml.ts';
import { shownText, verdictWords } from './words.ts';

/** The report as a PDF on A4, with the same parts, order, strips and crops as the page, tagged for reading aloud. */
export async function renderPdf(painted: PaintedReport, options: PaperOptions = {}): Promise<Uint8Array> {
  const { report } = painted;
  const title = `${verdictWords[report.verdict]}: ${shownText(report.job.name).slice(0, 240)}`;
  const { doc, finished } = openDocument(title, 'en', report.version);
  const type = new Typesetter(doc);
  const flow = new Flow(type);
  const digest = digestOf(report);
  flow.place(frontBlocks(type, painted, digest, options.date ?? null));
  placeDecisions(flow, report);
  if (digest.stopsTotal > 0) {
    const stops = findingBlocks(type, painted, digest.stops);
    flow.place([...sectionHead(type, 'What stops filming', 'stops'), ...stops]);
  }
  if (digest.lookFirstTotal > 0) {
    const joins = digest.openJoins.flatMap((note) => [
      rule(type, 8, 7),
      paragraph(type, [{ text: note.message, strong: true }], claim, contentWidth, 'H3'),
      gap(6),
    ]);
    flow.place([
      ...sectionHead(type, 'Look first', 'look-first'),
      ...joins,
      ...findingBlocks(type, painted, digest.lookFirst),
    ]);
  }
  if (report.error) placeError(flow, report.error);
  else placeFine(flow, report, digest);
  placeHalftones(flow, painted);
  placeRegister(flow, painted);
  placeMeetings(flow, report, digest);
  placeNotChecked(flow, report, digest);
  if (!report.error) placePress(flow, report);
  placeProvenance(flow, report);
  const timings = timingWords(report);
  const colophon = `Plateglass ${report.version}${timings === '' ? '' : `. Time: ${timings}.`}`;
  flow.place([gap(10), paragraph(type, [{ text: colophon, tone: 'quiet' }], body)]);
  type.structure.finish();
  numberPages(type, title);
  doc.end();
  return finished;
}

function numberPages(type: Typesetter, title: string): void {
  const { doc } = type;
  const { start, count } = doc.bufferedPageRange();
  const short = title.length > 90 ? `${title.slice(0, 89)}…` : title;
  for (let page = start; page < start + count; page += 1) {
    doc.switchToPage(page);
    const y = pageHeight - 28;
    type.structure.decoration(() => {
      type.drawLabel(short, marginX, y, 8, false, 'quiet', 'start');
      type.drawLabel(`${page - start + 1} of ${count}`, pageWidth - marginX, y, 8, false, 'quiet', 'end');
    }, 'Pagination');
  }
}
