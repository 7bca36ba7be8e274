import type { Ask, PlateFacts } from '../checks/ask.ts';
import type { AnyCheck, Judgement, LeftToOthers, NotApplicable, Source, Subject } from '../checks/check.ts';
import type { CheckResult, Limit, Reading, Unmeasured } from '../findings/finding.ts';
import type { Outcome } from '../findings/outcome.ts';
import { worstOutcome } from '../findings/outcome.ts';
import type { ResolvedTicket } from '../ticket/ticket.ts';
import type { JudgedReading, OpenPart } from './gatherFindings.ts';
import { gatherFindings, marginOf } from './gatherFindings.ts';

/**
 * Runs one check over a measured job: asks for its readings subject by subject, judges each, and gathers what does not
 * pass. The one place that catches: an error makes this check `couldNotRun` and no other. Something that could not be
 * measured, and a passing reading on a plate that is not verified, need review, unless it would pass whatever is missing;
 * nothing measured is never a pass.
 */
export function runCheck(check: AnyCheck, ask: Ask): CheckResult {
  try {
    return resultOf(check, judgeAll(check, ask), ask.ticket);
  } catch (error) {
    const message = error instanceof Error ? error.message : String(error);
    return {
      ...bareResult(check),
      outcome: 'couldNotRun',
      why: `The program made an error in this check: ${message}`,
    };
  }
}

interface Judged {
  readonly readings: JudgedReading[];
  readonly unmeasured: OpenPart[];
  readonly reasons: string[];
  readonly leftToOthers: string[];
}

function judgeAll(check: AnyCheck, ask: Ask): Judged {
  const judged: Judged = { readings: [], unmeasured: [], reasons: [], leftToOthers: [] };
  for (const subject of subjectsOf(check, ask)) {
    const limit = check.limit(ask, subject);
    if (isNotApplicable(limit)) {
      judged.reasons.push(limit.why);
      continue;
    }
    let items = 0;
    for (const item of check.measure(ask, subject)) {
      if (isLeftToOthers(item)) {
        judged.leftToOthers.push(item.leftToOthers);
        continue;
      }
      items++;
      if (isNotApplicable(item)) judged.reasons.push(item.why);
      else if (isUnmeasured(item)) judged.unmeasured.push({ item, limit });
      else judged.readings.push(judgeOne(check, ask, item, limit));
    }
    if (items === 0) judged.unmeasured.push(...unverifiedIn(subject, limit));
  }
  return judged;
}

function judgeOne(check: AnyCheck, ask: Ask, reading: Reading, limit: Limit): JudgedReading {
  if (reading.unit !== limit.unit) {
    throw new Error(`${check.id} reads in ${reading.unit} but its limit is in ${limit.unit}.`);
  }
  if (!Number.isFinite(reading.value) || !Number.isFinite(reading.plusMinus) || reading.plusMinus < 0) {
    throw new Error(`${check.id} read ${reading.value} ± ${reading.plusMinus}, which is no measured value.`);
  }
  const judgement = check.judge(reading, limit);
  const shown = judgement.shown ?? {
    value: reading.value,
    plusMinus: reading.plusMinus,
    limit,
    worse: check.worse,
  };
  const doubts = [
    ...[reading.doubt, reading.mayBeWorse].filter((doubt) => doubt !== undefined),
    ...ask.plates
      .filter(({ id, verified }) => !verified && reading.plateIds.includes(id))
      .flatMap(({ doubts }) => doubts),
  ];
  return {
    reading,
    limit,
    shown,
    derived: judgement.shown !== undefined,
    doubts,
    ...settle(judgement, reading, hasUnverified(reading, ask) && !passesAtWorst(check, reading, limit)),
  };
}

/** A doubt of the reading's own keeps it from failing, unless it can only be worse; any doubt keeps it from passing. */
function settle(
  judgement: Judgement<string>,
  reading: Reading,
  plateInDoubt: boolean,
): { readonly outcome: 'pass' | 'needsReview' | 'fail'; readonly code: string | null; readonly ownCode: boolean } {
  if (judgement.outcome === 'pass') {
    const inDoubt = reading.doubt !== undefined || reading.mayBeWorse !== undefined;
    if (!inDoubt && !plateInDoubt) return { outcome: 'pass', code: null, ownCode: false };
    return { outcome: 'needsReview', code: inDoubt ? 'in-doubt' : 'not-verified', ownCode: false };
  }
  const outcome = reading.doubt === undefined ? judgement.outcome : 'needsReview';
  return { outcome, code: judgement.code, ownCode: true };
}

function passesAtWorst(check: AnyCheck, reading: Reading, limit: Limit): boolean {
  if (reading.atWorst === undefined) return false;
  return check.judge({ ...reading, value: reading.atWorst }, limit).outcome === 'pass';
}

function hasUnverified(reading: Reading, ask: Ask): boolean {
  return ask.plates.some(({ id, verified }) => !verified && reading.plateIds.includes(id));
}

function resultOf(check: AnyCheck, judged: Judged, ticket: ResolvedTicket): CheckResult {
  const { readings, unmeasured, reasons, leftToOthers } = judged;
  const outcomes: Outcome[] = [
    ...readings.map(({ outcome }) => outcome),
    ...unmeasured.map((): Outcome => 'needsReview'),
  ];
  const outcome = worstOutcome(outcomes);
  if (outcome === 'notApplicable') {
    return { ...bareResult(check), why: distinct(reasons).join(' ') || 'There is nothing of the kind in this job.' };
  }
  const open = distinct(unmeasured.map(({ item }) => item.reason));
  return {
    ...bareResult(check),
    title: outcome === 'pass' ? check.title : check.failTitle,
    outcome,
    why: open.length === 0 ? null : open.join(' '),
    ...(leftToOthers.length === 0 ? {} : { leftToOthers: distinct(leftToOthers) }),
    findings: gatherFindings(check, readings, unmeasured, ticket),
    tightest: tightestOf(readings),
    readingsTotal: readings.length,
  };
}

function bareResult(check: AnyCheck): CheckResult {
  return {
    id: check.id,
    title: check.asks,
    asks: check.asks,
    worse: check.worse,
    outcome: 'notApplicable',
    why: null,
    findings: [],
    tightest: null,
    readingsTotal: 0,
    sources: check.sources.map(sourceWords),
  };
}

function tightestOf(readings: readonly JudgedReading[]): CheckResult['tightest'] {
  let tightest: JudgedReading | null = null;
  for (const judged of readings) {
    if (judged.derived) continue;
    if (tightest === null || marginOf(judged.shown) < marginOf(tightest.shown)) tightest = judged;
  }
  if (tightest === null) return null;
  const { reading, limit } = tightest;
  return {
    inkNames: reading.inkNames,
    value: reading.value,
    unit: reading.unit,
    plusMinus: reading.plusMinus,
    limit,
    ...(reading.atLeast ? { atLeast: true } : {}),
  };
}

function subjectsOf(check: AnyCheck, ask: Ask): Subject[] {
  if (check.scope === 'job') return [{ scope: 'job' }];
  if (check.scope === 'plate') return ask.plates.map((plate) => ({ scope: 'plate', plate }));
  return ask.overlaps.map(({ plateIds: [first, second] }) => ({
    scope: 'pair',
    plates: [plateOf(ask, first), plateOf(ask, second)],
  }));
}

function plateOf(ask: Ask, id: string): PlateFacts {
  const plate = ask.plates.find((candidate) => candidate.id === id);
  if (plate === undefined) throw new Error(`There is no plate ${id}.`);
  return plate;
}

/** Silence on a plate that is not verified is not known to be silence. */
function unverifiedIn(subject: Subject, limit: Limit): OpenPart[] {
  const plates = subject.scope === 'plate' ? [subject.plate] : subject.scope === 'pair' ? subject.plates : [];
  return plates
    .filter(({ verified }) => !verified)
    .map((plate) => ({
      item: {
        reason: `${plate.ink.name} could not be drawn completely. ${plate.doubts.join(' ')}`.trim(),
        plateIds: [plate.id],
        inkNames: [plate.ink.name],
        filmId: plate.film.id,
        boxMm: null,
      },
      limit,
      doubts: plate.doubts,
    }));
}

function isNotApplicable(item: Limit | Reading | Unmeasured | NotApplicable): item is NotApplicable {
  return 'why' in item;
}

function isLeftToOthers(item: Reading | Unmeasured | NotApplicable | LeftToOthers): item is LeftToOthers {
  return 'leftToOthers' in item;
}

function isUnmeasured(item: Reading | Unmeasured): item is Unmeasured {
  return 'reason' in item;
}

function sourceWords(source: Source): string {
  switch (source.kind) {
    case 'standard':
      return `${source.document}, ${source.clause}`;
    case 'published':
      return source.citation;
    case 'commonPractice':
      return `Common practice, no source: ${source.statement}`;
    case 'houseRule':
      return `Your ticket: ${source.ticketPath}`;
  }
}

function distinct(values: readonly string[]): string[] {
  return [...new Set(values)];
}
