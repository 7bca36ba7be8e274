import { type BoxMm, grownBox, intersectionOfBoxes } from '../geometry/box.ts';
import type { Entry, Member } from '../report/entry.ts';
import { placeKindOf } from '../report/placeKinds.ts';
import type { ReportJson } from '../report/reportJson.ts';
import { remedyOf } from '../report/words.ts';
import type { AnsweredFinding } from '../revisions/answeredFindings.ts';
import type { ArtChange, ArtChangeKind } from '../revisions/artChange.ts';
import { withoutSettled } from './decided.ts';
import { pickRequests } from './pickRequests.ts';

/** The revision before, and what became of it. */
export interface NoteSince {
  readonly report: ReportJson;
  readonly findings: readonly AnsweredFinding[];
  /** All that changed in the art; empty where its plates were not kept. */
  readonly changes: readonly ArtChange[];
}

/** What was asked for and is settled now, most important first. */
export function settledRequests(since: NoteSince, weFix: readonly string[]): Entry[] {
  const fixed = new Set(
    since.findings.flatMap(({ kind, before }) => (kind === 'fixed' && before !== null ? [keyOf(before)] : [])),
  );
  return requestsOf(since.report, weFix).filter(
    ({ members }) => members.length > 0 && members.every((member) => fixed.has(keyOf(member))),
  );
}

/** What became of a request of the later revision: how many places it had, null when it is new. */
export function placesBefore({ findings }: NoteSince, { members }: Entry): number | null {
  const known = new Map(findings.flatMap(({ before, after }) => (after === null ? [] : [[keyOf(after), before]])));
  const earlier = members.map((member) => known.get(keyOf(member)) ?? null).filter((one) => one !== null);
  if (earlier.length === 0) return null;
  return earlier.reduce((sum, { finding }) => sum + finding.placesTotal, 0);
}

/** Changes that nobody asked for. */
export function unaskedChanges(report: ReportJson, since: NoteSince, weFix: readonly string[]): ArtChange[] {
  const asked = requestsOf(since.report, weFix).flatMap(({ members }) => members);
  const wantsMarks = asked.some(({ check }) => check.id === 'missing-registration-mark');
  const marks = wantsMarks ? report.plates.flatMap((plate) => plate.marks ?? []) : [];
  return since.changes.filter(
    (change) => !marks.some((mark) => isMark(change, mark)) && !asked.some((member) => answers(change, member)),
  );
}

/** Whether what was added is a registration mark that is found there now. */
function isMark(
  { kind, box }: ArtChange,
  { xMm, yMm, sizeMm }: ReportJson['plates'][number]['marks'][number],
): boolean {
  if (kind !== 'added' || box === null) return false;
  const around = { xMm: xMm - sizeMm, yMm: yMm - sizeMm, widthMm: 2 * sizeMm, heightMm: 2 * sizeMm };
  return intersectionOfBoxes(around, box) !== null && Math.max(box.widthMm, box.heightMm) <= 2 * sizeMm;
}

function requestsOf(report: ReportJson, weFix: readonly string[]): Entry[] {
  const { stopping, open } = pickRequests(withoutSettled(report), 'customer', weFix);
  return [...stopping, ...open];
}

/** What people do to put something right, besides what they do at its very place. */
const remedies: Readonly<Record<string, readonly ArtChangeKind[]>> = {
  'extra-ink': ['inkRemoved', 'recoloured'],
  'near-duplicate-ink': ['inkRemoved', 'inkRenamed', 'inkRecoloured', 'recoloured'],
  'unnamed-ink': ['inkRenamed', 'inkRecoloured'],
  'unused-ink': ['inkRemoved', 'inkAdded'],
  'ink-not-on-ticket': ['inkRemoved', 'inkRenamed', 'recoloured'],
  'ink-missing-from-art': ['inkAdded', 'inkRenamed', 'recoloured'],
  'underbase-missing': ['inkAdded', 'added'],
  'underbase-peek': ['thinned', 'removed'],
  'misaligned-film': ['allMoved', 'moved'],
  'marks-disagree': ['allMoved', 'moved'],
  'scaled-film': ['allMoved', 'moved', 'resized'],
  'unequal-films': ['allMoved', 'moved'],
  'oversize-art': ['allMoved', 'resized'],
  'platen-overrun': ['allMoved', 'resized'],
  'semi-opaque-positive': ['darker', 'lighter', 'inkRecoloured'],
  'tone-out-of-range': ['darker', 'lighter'],
  'short-trap': ['thickened', 'thinned'],
  'open-gap': ['thickened', 'thinned'],
  'butt-joint': ['thickened', 'thinned'],
  'wide-trap': ['thickened', 'thinned'],
};
/** Put right all over where one place of many was told. */
const detailRemedies: readonly ArtChangeKind[] = ['thickened', 'thinned'];
/** What is changed to mend a place reaches so far beyond it. */
const aroundMm = 2;
/** A larger place says that something is in it, not where. */
const mostPlaceMm = 20;

/** Whether a change is an answer to what a finding asked for. */
function answers(change: ArtChange, { check, finding }: Member): boolean {
  const names = [...change.inkNames, ...(change.wasInkName === undefined ? [] : [change.wasInkName])];
  const isOfInk =
    finding.inkNames.length === 0 || names.length === 0 || names.some((name) => finding.inkNames.includes(name));
  if (!isOfInk) return false;
  if (remedies[check.id]?.includes(change.kind)) return true;
  const remedy = remedyOf(check.id);
  const isPartlyTold = finding.placesTotal > finding.places.length;
  if (remedy === 'detail' && isPartlyTold && detailRemedies.includes(change.kind)) return true;
  if (change.box === null) return false;
  const boxes = [change.box, ...(change.wasBox === undefined ? [] : [change.wasBox])];
  return finding.places.some(
    (place) =>
      Math.max(place.widthMm, place.heightMm) <= mostPlaceMm &&
      (remedy === 'files' || placeKindOf(check.id, finding) !== 'area') &&
      boxes.some((box) => meets(box, place)),
  );
}

function meets(box: BoxMm, place: BoxMm): boolean {
  return intersectionOfBoxes(grownBox(place, aroundMm), box) !== null;
}

function keyOf({ check, finding, findingIndex }: Member): string {
  return JSON.stringify([check.id, finding.code, finding.inkNames, findingIndex]);
}
