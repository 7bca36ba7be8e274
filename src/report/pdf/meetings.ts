import { factsOfBase, topsOfBase } from '../baseFacts.ts';
import type { Digest } from '../digest.ts';
import { areaCmWords, counted, shareWords } from '../format.ts';
import { type LengthScale, lengthChart, lengthScale } from '../lengthChart.ts';
import { factsOfMeeting } from '../meetingFacts.ts';
import {
  chartOfBase,
  chartOfMeeting,
  firstOfEachCheck,
  hasMeetings,
  inkNameOf,
  type Meeting,
  meetingsOf,
} from '../meetings.ts';
import { apartWords, chartLegend, leadOfMeetings, onPaper, rowOfMeeting } from '../meetingWords.ts';
import type { ReportJson, ReportUnderbase } from '../reportJson.ts';
import { paragraph, stack } from './blocks.ts';
import { drawingBlock } from './drawShapes.ts';
import { factFigure } from './factFigure.ts';
import { namedInks } from './findings.ts';
import { type Block, contentWidth, type Flow, gap, kept, room } from './flow.ts';
import { body, small } from './styles.ts';
import { type Column, tableRow } from './tableRow.ts';
import { columnHead, partHeading, plain, quiet, sectionHead } from './tables.ts';
import type { Span, Typesetter } from './typeset.ts';

/** As many pairs are shown in full; the others are rows. */
const mostInFull = 6;

/** How the inks meet: pairs with a finding in full, all others as rows, then the base. */
export function placeMeetings(flow: Flow, report: ReportJson, digest: Digest): void {
  if (!hasMeetings(report)) return;
  const { type } = flow;
  const meetings = meetingsOf(report, digest);
  const { found, fine, apartTotal, scale } = meetings;
  const lead: Span[] = [{ text: `${leadOfMeetings(meetings)} ` }, { text: chartLegend, tone: 'quiet' }];
  flow.place([
    ...sectionHead(type, 'Where inks meet', 'meetings'),
    kept(paragraph(type, lead, body)),
    ...(found.length === 0 ? [room(90)] : []),
    ...found.slice(0, mostInFull).flatMap((meeting) => meetingBlocks(type, report, meeting, scale)),
  ]);
  const more = found.slice(mostInFull);
  placeRows(flow, report, more, scale, `${counted(more.length, 'more pair')} with a finding`);
  placeRows(flow, report, fine, scale, `${counted(fine.length, 'pair')} without a finding`);
  if (apartTotal > 0) flow.place([gap(6), paragraph(type, quiet(apartWords(apartTotal)), body)]);
  if (report.underbase) placeBase(flow, report, report.underbase);
}

function meetingBlocks(type: Typesetter, report: ReportJson, meeting: Meeting, scale: LengthScale): Block[] {
  const chart = chartOfMeeting(meeting);
  return factFigure(type, report, {
    inkNames: meeting.inksAsPrinted,
    level: 'H3',
    under: findingSpans(meeting),
    facts: factsOfMeeting(meeting, onPaper),
    drawing: chart && lengthChart(chart, scale),
  });
}

/** To what was found about the pair, each check once. */
function findingSpans({ entries }: Meeting): Span[] {
  return firstOfEachCheck(entries).flatMap(({ anchor, title }, index) => [
    ...(index > 0 ? [{ text: ' · ' }] : []),
    { text: title, goTo: anchor },
  ]);
}

const rowColumns: readonly Column[] = [
  { width: 104, isHead: true },
  { width: 50, align: 'right' },
  { width: 92 },
  { width: 44, align: 'right' },
  { width: 68, align: 'right' },
  { width: 44, align: 'right' },
  { width: 103 },
];
const rowTitles = ['Inks', 'Edge', 'Overlap by length', 'Smallest', 'Median', 'Largest', 'Besides'];

function placeRows(
  flow: Flow,
  report: ReportJson,
  meetings: readonly Meeting[],
  scale: LengthScale,
  heading: string,
): void {
  if (meetings.length === 0) return;
  const { type } = flow;
  const rows = meetings.map((meeting) => {
    const { edge, least, median, most, besides } = rowOfMeeting(meeting);
    const chart = chartOfMeeting(meeting);
    const found = findingSpans(meeting);
    const inks = paragraph(type, namedInks(report, meeting.inksAsPrinted), small, rowColumns[0].width - 8);
    const cells = [
      found.length === 0 ? inks : stack([inks, paragraph(type, found, small, rowColumns[0].width - 8)]),
      plain(edge),
      chart === null ? [] : drawingBlock(type, lengthChart(chart, scale, 'small'), 84),
      plain(least),
      plain(median),
      plain(most),
      plain(besides),
    ];
    return tableRow(type, rowColumns, cells, small);
  });
  flow.place([gap(12), kept(paragraph(type, [{ text: heading, strong: true }], body, contentWidth, 'H3')), room(60)]);
  flow.placeTable(columnHead(type, rowColumns, rowTitles), rows);
}

const topColumns: readonly Column[] = [
  { width: 130, isHead: true },
  { width: 70, align: 'right' },
  { width: 120, align: 'right' },
  { width: 60, align: 'right' },
];

function placeBase(flow: Flow, report: ReportJson, base: ReportUnderbase): void {
  const { type } = flow;
  const chart = chartOfBase(report, base);
  const figure = factFigure(type, report, {
    inkNames: [inkNameOf(report, base.basePlateId)],
    level: 'H4',
    facts: factsOfBase(report, base, onPaper),
    drawing: chart && lengthChart(chart, lengthScale([chart])),
  });
  flow.place([gap(12), partHeading(type, 'The base under the colours'), ...figure, room(60)]);
  const rows = topsOfBase(report, base).map(({ inkName, areaMm2, bareAreaMm2, barePercent }) => {
    const areas = [areaCmWords(areaMm2), areaCmWords(bareAreaMm2), shareWords(barePercent)].map(plain);
    return tableRow(type, topColumns, [namedInks(report, [inkName]), ...areas], small);
  });
  const titles = ['On the base', 'Prints', 'Without base straight below', 'Share'];
  flow.placeTable(columnHead(type, topColumns, titles), rows);
}
