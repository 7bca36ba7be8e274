import { inkHex, safeHex } from '../composite.ts';
import { type CropPicture, captionOf, cropSideMm, unitsPerMm } from '../cropPicture.ts';
import { dataUri } from '../dataUri.ts';
import type { Group } from '../digest.ts';
import type { Entry } from '../entry.ts';
import { inkValuesOf, originOfLimit, readingAgainstLimit } from '../frontFacts.ts';
import { isEveryInk } from '../inkWords.ts';
import { measureStrip, stripReadingOf, stripWidth } from '../measureStrip.ts';
import type { PaintedReport } from '../paintedReport.ts';
import type { PlacesMap } from '../placesMap.ts';
import type { ReportJson } from '../reportJson.ts';
import { figure, paragraph, rule, sideBySide, stack } from './blocks.ts';
import { drawingBlock, drawShapes } from './drawShapes.ts';
import { anchor, type Block, contentWidth, gap, kept } from './flow.ts';
import { body, claim, small } from './styles.ts';
import type { Span, Typesetter } from './typeset.ts';

/** Points a drawing unit (a CSS pixel). */
const unit = 0.75;
export const stripWidthPt = stripWidth * 0.74;

/** The findings of a list of groups: what one would do, then each finding with strip, places and advice. */
export function findingBlocks(type: Typesetter, painted: PaintedReport, groups: readonly Group[]): Block[] {
  return groups.flatMap((group) => [
    gap(10),
    kept(paragraph(type, [{ text: group.heading, strong: true, tone: 'quiet' }], body, contentWidth, 'H3')),
    ...group.entries.flatMap((entry) => entryBlocks(type, painted, entry)),
  ]);
}

function entryBlocks(type: Typesetter, { report, figures }: PaintedReport, entry: Entry): Block[] {
  const { check, finding } = entry;
  const start = [rule(type, 4, 7), anchor(type, entry.anchor)];
  if (finding === null) {
    const title = kept(paragraph(type, [{ text: entry.title, strong: true }], claim, contentWidth, 'H4'));
    return [...start, title, paragraph(type, [{ text: check.why ?? '' }], body), gap(12)];
  }
  const { crops, map } = figures.get(entry.anchor)!;
  const blocks: Block[] = [...start, kept(claimBlock(type, report, entry))];
  if (crops.length > 0 || map) blocks.push(gap(8), kept(picturesRow(type, crops, map ? [mapBlock(type, map)] : [])));
  return [...blocks, gap(7), adviceBlock(type, entry), gap(12)];
}

function claimBlock(type: Typesetter, report: ReportJson, entry: Entry): Block {
  const { check, finding, fold } = entry;
  const width = contentWidth - stripWidthPt - 24;
  const words: Block[] = [paragraph(type, [{ text: entry.title, strong: true }], claim, width, 'H4')];
  if (finding && finding.inkNames.length > 0) words.push(paragraph(type, inkLine(report, entry), body, width));
  const reading = readingAgainstLimit(entry);
  if (reading !== '') {
    const origin = originOfLimit(report, entry);
    const spans: Span[] = [{ text: reading }, { text: origin === '' ? '' : ` (${origin})`, tone: 'quiet' }];
    words.push(paragraph(type, spans, body, width));
  } else if (check.why !== null && fold !== 'waiting') words.push(paragraph(type, [{ text: check.why }], body, width));
  if (finding && finding.details.length > 0) {
    words.push(paragraph(type, [{ text: finding.details.join(' · '), tone: 'quiet' }], small, width));
  }
  const items = [{ block: stack(words), left: 0 }];
  const strip = stripBlock(type, entry);
  if (strip) items.push({ block: strip, left: contentWidth - stripWidthPt });
  return sideBySide(items);
}

/** The inks of a finding; of a folded one each ink with its value. */
function inkLine(report: ReportJson, entry: Entry): Span[] {
  const values = inkValuesOf(entry);
  if (values.length === 0) return inkSpans(report, entry.finding?.inkNames ?? []);
  return values.flatMap(({ names, value }, index) => [
    ...(index > 0 ? [{ text: ' · ' }] : []),
    ...namedInks(report, names),
    { text: value === '' ? '' : ` ${value}` },
  ]);
}

function stripBlock(type: Typesetter, entry: Entry): Block | null {
  const reading = stripReadingOf(entry);
  if (reading === null) return null;
  return drawingBlock(type, measureStrip(reading), stripWidthPt);
}

/** Inks with their swatches, one after the other. */
export function inkSpans(report: ReportJson, names: readonly string[]): Span[] {
  return isEveryInk(report, names) ? [{ text: 'every ink' }] : namedInks(report, names);
}

/** Inks with their swatches, each by its name. */
export function namedInks(report: ReportJson, names: readonly string[]): Span[] {
  return names.flatMap((name, index) => {
    const ink = report.inks.find((candidate) => candidate.name === name);
    const swatchHex = ink ? safeHex(inkHex(report, ink.id)) : undefined;
    return [...(index > 0 ? [{ text: ' / ' }] : []), { text: name.slice(0, 160), swatchHex }];
  });
}

/** An enlarged place with what is drawn over it. */
/** Up to four pictures beside each other. */
export function picturesRow(type: Typesetter, crops: readonly CropPicture[], further: readonly Block[] = []): Block {
  const blocks = [...crops.map((crop) => cropBlock(type, crop)), ...further];
  const width = cropSideMm * unitsPerMm * unit;
  const step = width + (contentWidth - 4 * width) / 3;
  return sideBySide(blocks.map((block, index) => ({ block, left: index * step })));
}

function cropBlock(type: Typesetter, crop: CropPicture): Block {
  const [width, height] = [crop.width * unit, crop.height * unit];
  const picture = figure(type, { width, height }, crop.label, (x, y) => {
    const { doc } = type;
    doc.save().rect(x, y, width, height).clip();
    const size = { width: crop.imageWidth * unit, height: crop.imageHeight * unit };
    doc.image(dataUri(crop.picture), x + crop.imageX * unit, y + crop.imageY * unit, size);
    drawShapes(type, crop.overlay, x, y, unit);
    doc.restore();
  });
  return captioned(type, picture, captionOf(crop));
}

function mapBlock(type: Typesetter, map: PlacesMap): Block {
  const [width, height] = [map.width * unit, map.height * unit];
  const picture = figure(type, { width, height }, map.label, (x, y) => {
    if (map.picture) type.doc.image(dataUri(map.picture), x, y, { width, height });
    drawShapes(type, map.overlay, x, y, unit);
  });
  return captioned(type, picture, map.caption);
}

function captioned(type: Typesetter, picture: Block, words: string): Block {
  return stack([picture, gap(4), paragraph(type, [{ text: words, tone: 'quiet' }], small, 42 * 2.8346, 'Caption')]);
}

function adviceBlock(type: Typesetter, { finding }: Entry): Block {
  const width = (contentWidth - 24) / 2;
  const column = (heading: string, words: string) =>
    stack([
      paragraph(type, [{ text: heading, tone: 'quiet' }], small, width),
      paragraph(type, [{ text: words }], body, width),
    ]);
  return sideBySide([
    { block: column('For the printer', finding?.advice.printer ?? ''), left: 0 },
    { block: column('For the customer', finding?.advice.customer ?? ''), left: width + 24 },
  ]);
}
