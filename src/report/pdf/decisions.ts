import { decisionLines, historyLines, standingSentence } from '../decisionWords.ts';
import type { ReportJson } from '../reportJson.ts';
import { paragraph } from './blocks.ts';
import { type Flow, gap, kept, room } from './flow.ts';
import { body, small } from './styles.ts';
import { type Column, tableRow } from './tableRow.ts';
import { columnHead, partHeading, plain, sectionHead } from './tables.ts';

const decisionColumns: readonly Column[] = [{ width: 92 }, { width: 78 }, { width: 175, isHead: true }, { width: 160 }];
const historyColumns: readonly Column[] = [{ width: 92 }, { width: 160 }, { width: 253 }];

/** Who released, held or accepted what, and why; nothing when the report was handed out before anybody decided. */
export function placeDecisions(flow: Flow, { decisions, checks }: ReportJson): void {
  if (decisions === undefined) return;
  const { type } = flow;
  const sentence = paragraph(type, [{ text: standingSentence(decisions), strong: true }], body);
  flow.place([...sectionHead(type, 'Decisions', 'decisions'), kept(sentence)]);
  const lines = decisionLines(decisions, checks);
  if (lines.length > 0) {
    flow.place([room(60)]);
    flow.placeTable(
      columnHead(type, decisionColumns, ['When', 'Who', 'What', 'Why']),
      lines.map(({ when, who, what, reason, undone }) =>
        tableRow(
          type,
          decisionColumns,
          [
            plain(when),
            plain(who),
            plain(what),
            [...plain(reason), ...(undone === '' ? [] : [{ text: ` ${undone}`, strong: true }])],
          ],
          small,
        ),
      ),
    );
  }
  const history = historyLines(decisions);
  if (history.length === 0) return;
  flow.place([gap(8), partHeading(type, 'History of the job'), room(60)]);
  flow.placeTable(
    columnHead(type, historyColumns, ['When', 'Who', 'What']),
    history.map(({ when, who, what }) => tableRow(type, historyColumns, [plain(when), plain(who), plain(what)], small)),
  );
}
