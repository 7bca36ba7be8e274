import type { Limit, Reading, Unmeasured } from '../findings/finding.ts';
import type { ResolvedTicket } from '../ticket/ticket.ts';
import type { Ask, PlateFacts } from './ask.ts';

export type Source =
  | { readonly kind: 'standard'; readonly document: string; readonly clause: string }
  | { readonly kind: 'published'; readonly citation: string }
  | { readonly kind: 'commonPractice'; readonly statement: string }
  | { readonly kind: 'houseRule'; readonly ticketPath: string };

/** What a check is asked about: the whole job, one plate, or two plates. */
export type Subject =
  | { readonly scope: 'job' }
  | { readonly scope: 'plate'; readonly plate: PlateFacts }
  | { readonly scope: 'pair'; readonly plates: readonly [PlateFacts, PlateFacts] };

export interface NotApplicable {
  readonly why: string;
}

/** What a check does not judge because others do, said whatever it finds itself. */
export interface LeftToOthers {
  readonly leftToOthers: string;
}

export type Judgement<Code extends string> =
  | { readonly outcome: 'pass'; readonly shown?: Shown }
  | { readonly outcome: 'fail' | 'needsReview'; readonly code: Code; readonly shown?: Shown };

/** What a finding shows in place of the reading and the limit, when something derived of the reading was judged. */
export interface Shown {
  readonly value: number;
  readonly plusMinus: number;
  readonly limit: Limit;
  readonly worse: 'less' | 'more';
  /** What the value is, when the reading does not say it. */
  readonly words?: string;
}

/** What an advice may speak of: the worst reading of its finding and the limit. */
export interface AdviceContext {
  readonly reading: Reading;
  readonly limit: Limit;
  readonly placesTotal: number;
  readonly ticket: ResolvedTicket;
}

export interface Advice {
  /** What the customer is asked to change, in the customer's words. */
  customer(context: AdviceContext): string;
  /** What the printer can do. */
  printer(context: AdviceContext): string;
}

/**
 * One question with one limit. `measure` asks for readings and knows no limit; `judge` sees a reading and the limit and
 * nothing else; a code without advice does not compile.
 */
export interface Check<Code extends string> {
  /** Kebab-case noun for the failing state; the file's name; never changed, never used again. */
  readonly id: string;
  /** A sentence that is true when it passes. */
  readonly title: string;
  /** A sentence that is true when it fails. */
  readonly failTitle: string;
  /** The question in one plain sentence. */
  readonly asks: string;
  readonly sources: readonly [Source, ...Source[]];
  readonly scope: Subject['scope'];
  /** Which way readings get worse: below the limit or above it. */
  readonly worse: 'less' | 'more';
  limit(ask: Ask, subject: Subject): Limit | NotApplicable;
  /** A `NotApplicable` says why there is nothing to read here; it counts only when nothing else was read. */
  measure(ask: Ask, subject: Subject): Iterable<Reading | Unmeasured | NotApplicable | LeftToOthers>;
  judge(reading: Reading, limit: Limit): Judgement<Code>;
  readonly advice: Readonly<Record<Code, Advice>>;
}

/** A check of the list, whatever its codes. */
export type AnyCheck = Check<string>;
