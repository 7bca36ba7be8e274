import { counted, decimalsFor, quantity, runInchWords, runWords, thinSpace } from './format.ts';
import { barWords, factsOfMeeting, type Wording } from './meetingFacts.ts';
import { edgeLengthMm, type Meeting, type Meetings } from './meetings.ts';

export const onPaper: Wording = { gap: thinSpace, isBrief: false };

/** A pair in a row of a table: figures with a column of their own, and all else in words. */
export interface MeetingRow {
  readonly edge: string;
  readonly least: string;
  readonly median: string;
  readonly most: string;
  readonly besides: string;
}

export function rowOfMeeting(meeting: Meeting): MeetingRow {
  const { minOverlapMm, medianOverlapMm, maxOverlapMm, plusMinusMm } = meeting.pair;
  const edge = edgeLengthMm(meeting.pair);
  const decimals = decimalsFor('mm', [], plusMinusMm);
  const figure = (mm: number | null) => (mm === null ? '–' : quantity(mm, 'mm', decimals));
  const besides = factsOfMeeting(meeting, onPaper).filter(({ term }) => term !== 'Common edge' && term !== 'Overlap');
  return {
    edge: edge === 0 ? '–' : runWords(edge),
    least: figure(minOverlapMm),
    median: medianOverlapMm === null ? '–' : barWords(medianOverlapMm, plusMinusMm, onPaper),
    most: figure(maxOverlapMm),
    besides: besides.map(({ phrase }) => phrase).join('; '),
  };
}

/** How many pairs there are, and how much edge they share. */
export function leadOfMeetings({ found, fine }: Meetings): string {
  const meetings = [...found, ...fine];
  const edges = meetings.map(({ pair }) => edgeLengthMm(pair)).filter((mm) => mm > 0);
  const others = meetings.length - edges.length;
  if (edges.length === 0) {
    if (others === 0) return 'No two inks lie on each other or share an edge.';
    return `No two inks share an edge; ${counted(others, 'pair')} ${others === 1 ? 'lies' : 'lie'} on each other.`;
  }
  const sumMm = edges.reduce((sum, mm) => sum + mm, 0);
  const pairs = `${counted(edges.length, 'pair')} of inks ${edges.length === 1 ? 'shares' : 'share'} an edge`;
  const rest = others === 0 ? '' : `; ${others} more ${others === 1 ? 'lies' : 'lie'} on each other without one`;
  return `${pairs}, ${runInchWords(sumMm)} in all${rest}.`;
}

/** How the charts are read. */
export const chartLegend =
  'Columns show the length of edge at each width: filled where the inks overlap, open where they leave a gap, narrow on ' +
  'nought where they butt. The shortest are drawn tall enough to be seen. All charts have one scale.';

/** Pairs that are not listed, and why. */
export function apartWords(total: number): string {
  const pairs = total === 1 ? '1 more pair shares' : `${total} more pairs share`;
  return `${pairs} no edge and, registration marks aside, no area.`;
}
