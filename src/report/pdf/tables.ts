import type { CheckResult } from '../../findings/finding.ts';
import type { Digest } from '../digest.ts';
import { bytesWords, fixed, originWords, sizeWords, thinSpace } from '../format.ts';
import { leftToOthersIn } from '../leftToOthers.ts';
import { measureStrip, type StripReading, stripOfTightest } from '../measureStrip.ts';
import { limitRows } from '../provenance.ts';
import { tightestInWords } from '../readingInWords.ts';
import type { ReportJson } from '../reportJson.ts';
import { errorHeadings } from '../words.ts';
import { closes, opens, paragraph, rule, tagged } from './blocks.ts';
import { drawingBlock } from './drawShapes.ts';
import { inkSpans } from './findings.ts';
import { anchor, type Block, contentWidth, type Flow, gap, kept, room } from './flow.ts';
import { body, claim, section, small, tiny } from './styles.ts';
import { type Column, tableRow } from './tableRow.ts';
import type { Span, Typesetter } from './typeset.ts';

/** Opens a section: a heavy rule, the heading, a place for links and for the list of parts beside the page. */
export function sectionHead(type: Typesetter, title: string, name: string): Block[] {
  const heading = kept(paragraph(type, [{ text: title, strong: true }], section, contentWidth, 'H2'));
  const draw = (x: number, y: number) => {
    type.doc.outline.addItem(title);
    heading.draw(x, y);
  };
  return [gap(12), rule(type, 8, 8, true), anchor(type, name), { ...heading, draw }];
}

export const quiet = (text: string): Span[] => [{ text, tone: 'quiet' }];
export const plain = (text: string): Span[] => [{ text }];
export const columnHead = (type: Typesetter, columns: readonly Column[], titles: readonly string[]) =>
  tableRow(type, columns, titles.map(quiet), small, 'head');

/** The heading of a part of a section. */
export function partHeading(type: Typesetter, words: string): Block {
  return kept(paragraph(type, quiet(words), body, contentWidth, 'H3'));
}

/** Items of a list, each behind a dash. */
function dashed(type: Typesetter, items: readonly string[], above: number): Block[] {
  const blocks = items.flatMap((item) => [
    ...(above > 0 ? [gap(above)] : []),
    tagged(type, 'LI', paragraph(type, plain(`– ${item}`), body, contentWidth, 'LBody')),
  ]);
  return [opens(type, 'L'), ...blocks, closes(type)];
}

const fineColumns: readonly Column[] = [
  { width: 136, isHead: true },
  { width: 88 },
  { width: 72, align: 'right' },
  { width: 74, align: 'right' },
  { width: 60 },
  { width: 75 },
];

/** The film that could not be opened: which, what is wrong with it, what to do. */
export function placeError(flow: Flow, { file, code, message, remedy }: NonNullable<ReportJson['error']>): void {
  const { type } = flow;
  flow.place([
    ...sectionHead(type, errorHeadings(code).section, 'error'),
    gap(6),
    kept(paragraph(type, [{ text: file.slice(0, 240), strong: true }], claim, contentWidth, 'H3')),
    kept(paragraph(type, plain(message), body)),
    gap(7),
    kept(paragraph(type, quiet('What to do'), small)),
    paragraph(type, plain(remedy), body),
  ]);
}

/** Every check that passed with its tightest reading against its limit. */
export function placeFine(flow: Flow, report: ReportJson, digest: Digest): void {
  const { type } = flow;
  const head = sectionHead(type, 'Measured and fine', 'fine');
  if (digest.fine.length === 0) {
    flow.place([...head, paragraph(type, plain('No check passed with a measurement.'), body)]);
    return;
  }
  flow.place([...head, kept(paragraph(type, quiet('Each check with its tightest reading.'), body)), room(60)]);
  const titles = ['Check', 'Ink', 'Tightest', 'Limit', 'From', 'Where it lies'];
  flow.placeTable(
    columnHead(type, fineColumns, titles),
    digest.fine.map((check) => fineRow(type, report, check)),
  );
}

function fineRow(type: Typesetter, report: ReportJson, check: CheckResult): Block {
  const { tightest } = check;
  if (!tightest) return tableRow(type, fineColumns, [plain(check.title), [], quiet('–'), quiet('–'), [], []], small);
  const { reading, limit } = tightestInWords(check);
  const shown = stripOfTightest(check);
  return tableRow(
    type,
    fineColumns,
    [
      plain(check.title),
      reading === 'none' ? [] : inkSpans(report, tightest.inkNames),
      plain(reading),
      plain(limit),
      plain(limit === '' ? '' : originWords[tightest.limit.from]),
      shown === null ? [] : smallStrip(type, shown),
    ],
    small,
  );
}

function smallStrip(type: Typesetter, reading: StripReading): Block {
  return drawingBlock(type, measureStrip(reading, 'small'), 75);
}

/** What could not be run, what does not apply here, and what this version does not look at. */
export function placeNotChecked(flow: Flow, report: ReportJson, digest: Digest): void {
  const { type } = flow;
  const blocks = sectionHead(type, 'Not checked, and why', 'not-checked');
  const list = (heading: string, rows: readonly (readonly [string, string])[]) => {
    if (rows.length === 0) return;
    blocks.push(gap(8), partHeading(type, heading));
    for (const [term, why] of rows) {
      blocks.push(
        gap(2),
        paragraph(type, [{ text: `${term}${/[.?!]$/.test(term) ? '' : '.'} `, strong: true }, { text: why }], body),
      );
    }
  };
  const rowsOf = (checks: readonly CheckResult[]) => checks.map((check) => [check.title, check.why ?? ''] as const);
  if (report.error) {
    blocks.push(gap(6), paragraph(type, plain('Nothing was measured: a film of the job could not be opened.'), body));
  }
  list('Left to other checks', leftToOthersIn(report));
  list('Could not be run', rowsOf(digest.couldNotRun));
  list('Does not apply to this job', rowsOf(digest.notApplicable));
  list(
    'Not looked at by this version',
    report.notLookedAt.map((item) => [item.title, item.why] as const),
  );
  flow.place(blocks);
}

const orderColumns: readonly Column[] = [
  { width: 44, align: 'right' },
  { width: 120, isHead: true },
  { width: 62 },
  { width: 104 },
  { width: 46, align: 'right' },
  { width: 129 },
];

/** Order, meshes, stations, notes and cautions of the press plan. */
export function placePress(flow: Flow, report: ReportJson): void {
  const { type } = flow;
  const { plan } = report;
  const lead = `A proposal: ${plan.stationsNeeded} stations needed, ${plan.stationsOwned} on the press.`;
  flow.place([...sectionHead(type, 'For the press', 'press'), kept(paragraph(type, plain(lead), body)), room(60)]);
  const rows = plan.order.map((step) => {
    const what =
      step.what === 'ink'
        ? inkSpans(report, [step.inkName ?? ''])
        : quiet(step.what === 'flash' ? 'Flash' : 'Cool-down');
    const covers = step.coveragePercent === null ? '' : `${fixed(step.coveragePercent, 1)}${thinSpace}%`;
    const cells = [
      plain(String(step.station)),
      what,
      plain(step.role ?? ''),
      plain(step.mesh ?? ''),
      plain(covers),
      plain(step.why),
    ];
    return tableRow(type, orderColumns, cells, small);
  });
  flow.placeTable(columnHead(type, orderColumns, ['Station', 'What', 'Role', 'Mesh', 'Covers', 'Why there']), rows);
  const list = (heading: string, items: readonly string[]) => {
    if (items.length === 0) return [];
    return [gap(8), partHeading(type, heading), ...dashed(type, items, 2)];
  };
  flow.place([...list('Notes', plan.notes), ...list('Cautions', plan.cautions)]);
}

const limitColumns: readonly Column[] = [
  { width: 80, isHead: true },
  { width: 62 },
  { width: 46, align: 'right' },
  { width: 58 },
  { width: 159 },
  { width: 100 },
];

/** Files with hashes, how they were read and joined, every limit with origin and source. */
export function placeProvenance(flow: Flow, report: ReportJson): void {
  const { type } = flow;
  const blocks = [
    ...sectionHead(type, 'Provenance', 'provenance'),
    ...(report.films.length > 0 ? [gap(6), partHeading(type, 'Files, as read')] : []),
  ];
  for (const film of report.films) {
    const facts = [
      bytesWords(film.sizeBytes),
      film.format,
      film.nature,
      `${sizeWords(film.widthMm, film.heightMm)}${film.scaleKnown ? '' : ' (size assumed)'}`,
      `${film.objectCount} objects`,
    ];
    const name = `${film.file.slice(0, 240)}${film.page > 1 ? `, page ${film.page}` : ''}`;
    blocks.push(gap(3), kept(paragraph(type, [{ text: `${name}  `, strong: true }, { text: facts.join(', ') }], body)));
    for (const note of film.notes) blocks.push(paragraph(type, plain(note.message), body));
    blocks.push(paragraph(type, quiet(film.sha256 === '' ? '' : `SHA-256 ${film.sha256}`), tiny));
  }
  if (report.joined.length > 0) {
    const notes = report.joined.map(({ message }) => message);
    blocks.push(gap(8), partHeading(type, 'How they were joined'), ...dashed(type, notes, 0));
  }
  flow.place([...blocks, gap(8), partHeading(type, 'Limits'), room(50)]);
  const rows = limitRows(report).map((row) => {
    const cells = [row.name, row.forWhom, row.value, row.from, row.rule, row.source].map(plain);
    return tableRow(type, limitColumns, cells, tiny);
  });
  flow.placeTable(columnHead(type, limitColumns, ['Limit', 'For', 'Value', 'From', 'Rule', 'Source']), rows);
}
