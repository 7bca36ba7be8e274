import { deserialize, serialize } from 'node:v8';
import { deflateRawSync, inflateRawSync } from 'node:zlib';
import type { ReadFilm } from '../artwork/film.ts';
import type { Ask, PlateFacts } from '../checks/ask.ts';
import { buildReport, type ReportInput } from '../report/buildReport.ts';
import type { ReportJson } from '../report/reportJson.ts';
import type { ResolvedTicket } from '../ticket/ticket.ts';
import { joinJob, judgeJob } from './judgeJob.ts';
import { type MeasuringPlan, notMeasuredBy, planMeasuring } from './measuringPlan.ts';
import { notLookedAt } from './notLookedAt.ts';

/** Name of the file that facts are kept in, beside the plates. */
export const factsFileName = 'measured.bin';
/** Facts that spread out to more than this are not taken up. */
const mostBytes = 2 ** 30;

/**
 * All that was read and measured of a job and is judged by, as it was measured: with it a job is judged by another ticket
 * without its films. It holds for the build of the program that wrote it and for no other.
 */
export interface MeasuredFacts {
  /** Which build measured. */
  readonly program: string;
  readonly sourceFiles: ReportInput['sourceFiles'];
  /** Resolution that was given for bitmaps which do not say; null: none was. */
  readonly dpi: number | null;
  /** As read, but for the way they are drawn. */
  readonly films: readonly ReadFilm[];
  readonly plan: MeasuringPlan;
  readonly plates: readonly Pick<
    PlateFacts,
    'id' | 'inkKey' | 'grid' | 'verified' | 'doubts' | 'detail' | 'opacity' | 'halftone'
  >[];
  readonly measured: Pick<Ask, 'overlaps' | 'underbase' | 'marks' | 'registration'>;
}

export interface FactsOf {
  readonly ask: Ask;
  readonly films: readonly ReadFilm[];
  readonly plan: MeasuringPlan;
  readonly program: string;
  readonly sourceFiles: ReportInput['sourceFiles'];
  readonly dpi: number | undefined;
}

/** The facts of a job as bytes: structured clone (`node:v8`), raw deflate. Every number comes back as it was. */
export function packFacts({ ask, films, plan, program, sourceFiles, dpi }: FactsOf): Uint8Array {
  const { overlaps, underbase, marks, registration } = ask;
  const facts: MeasuredFacts = {
    ...{ program, sourceFiles, plan, dpi: dpi ?? null },
    films: films.map((film) => ({ ...film, drawing: { nativeGrid: film.drawing.nativeGrid } as ReadFilm['drawing'] })),
    plates: ask.plates.map(({ id, inkKey, grid, verified, doubts, detail, opacity, halftone }) => ({
      ...{ id, inkKey, grid, verified, doubts, detail, opacity, halftone },
    })),
    measured: { overlaps, underbase, marks, registration },
  };
  return deflateRawSync(serialize(facts), { level: 3 });
}

/** Null when the bytes are no facts that this build wrote. */
export function unpackFacts(bytes: Uint8Array, program: string): MeasuredFacts | null {
  try {
    const facts = deserialize(inflateRawSync(bytes, { maxOutputLength: mostBytes })) as MeasuredFacts;
    return facts.program === program ? facts : null;
  } catch {
    return null;
  }
}

/** What is judged of a job, or what must be measured for it first. */
export type AskAgain =
  | { readonly kind: 'measured'; readonly ask: Ask }
  | { readonly kind: 'notMeasured'; readonly reasons: readonly string[] };

/** Lays a ticket over facts that were measured by another. */
export function askAgain(facts: MeasuredFacts, jobName: string, ticket: ResolvedTicket): AskAgain {
  const artwork = joinJob(jobName, facts.films, ticket);
  const reasons = notMeasuredBy(facts.plan, planMeasuring(artwork, ticket));
  if (reasons.length > 0) return { kind: 'notMeasured', reasons };
  const plates = facts.plates.map((plate): PlateFacts => {
    const { inkId, filmId } = artwork.plateSources.find(({ id }) => id === plate.id)!;
    return {
      ...plate,
      ink: artwork.inks.find(({ id }) => id === inkId)!,
      film: artwork.films.find(({ id }) => id === filmId)!,
    };
  });
  return { kind: 'measured', ask: { ticket, artwork, plates, ...facts.measured } };
}

/** A job judged by another ticket, or what must be measured for it first. */
export type JudgedAgain =
  | { readonly kind: 'judged'; readonly report: ReportJson }
  | { readonly kind: 'notMeasured'; readonly reasons: readonly string[] };

/** The report of a job by another ticket, from what was measured of it; but for `timings` that of a whole new check. */
export function judgeAgain(
  facts: MeasuredFacts,
  { jobName, ticket, version }: { readonly jobName: string; readonly ticket: ResolvedTicket; readonly version: string },
): JudgedAgain {
  const again = askAgain(facts, jobName, ticket);
  if (again.kind === 'notMeasured') return again;
  const { ask } = again;
  const { sourceFiles } = facts;
  const report = buildReport({ version, ask, ...judgeJob(ask), sourceFiles, notLookedAt, timings: {} });
  return { kind: 'judged', report };
}
