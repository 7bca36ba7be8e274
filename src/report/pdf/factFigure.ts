import type { Fact } from '../frontFacts.ts';
import type { ReportJson } from '../reportJson.ts';
import type { Drawing } from '../shapes.ts';
import { listedFact, paragraph, rule, sideBySide, stack, tagged } from './blocks.ts';
import { drawingBlock } from './drawShapes.ts';
import { namedInks, stripWidthPt } from './findings.ts';
import { type Block, contentWidth, gap } from './flow.ts';
import { body, claim, small } from './styles.ts';
import type { Span, Typesetter } from './typeset.ts';

const termWidth = 70;

/** Inks under a rule, with what was measured of them and, beside it, a drawing. */
export interface FactFigure {
  readonly inkNames: readonly string[];
  readonly level: 'H3' | 'H4';
  /** Right below the inks. */
  readonly under?: readonly Span[];
  readonly facts: readonly Pick<Fact, 'term' | 'value'>[];
  readonly drawing: Drawing | null;
}

export function factFigure(type: Typesetter, report: ReportJson, shown: FactFigure): Block[] {
  const { inkNames, level, under = [], facts, drawing } = shown;
  const width = contentWidth - stripWidthPt - 24;
  const title = namedInks(report, inkNames).map((span) => ({ ...span, strong: true }));
  const listed = facts.map(({ term, value }) =>
    listedFact(type, [{ text: term, tone: 'quiet' }], [{ text: value }], small, { term: termWidth, all: width }),
  );
  const words = [
    paragraph(type, title, claim, width, level),
    ...(under.length > 0 ? [paragraph(type, under, body, width)] : []),
    gap(2),
    tagged(type, 'L', stack(listed)),
  ];
  const items = [{ block: stack(words), left: 0 }];
  if (drawing) items.push({ block: drawingBlock(type, drawing, stripWidthPt), left: contentWidth - stripWidthPt });
  return [rule(type, 6, 7), sideBySide(items), gap(4)];
}
