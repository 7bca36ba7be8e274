import type { en } from './en.ts';

type English = typeof en;
export type FrameKey = keyof English['frame'];
export type ChangeKey = keyof English['changes'];
export type ProofKey = keyof English['proof'];
export type ListKey = keyof English['list'];
export type OfferKey = keyof English['offers'];
export type GeneralCode = keyof English['general'];
export type CheckId = keyof English['findings'];

/** One defect, what it does to the print, one request, one offer. */
export interface FindingWords {
  readonly effect: string;
  /** What is said once it is put right. */
  readonly settled: string;
  readonly offer: OfferKey;
  /** Of each code the defect and the request. */
  readonly codes: Readonly<Record<string, readonly [defect: string, request: string]>>;
}

/** The words on findings that stand in English, in another language: each check, each code, and nothing else. */
export type FindingsLike<Original> = {
  readonly [Id in keyof Original]: FindingWords & {
    readonly codes: {
      readonly [Code in CodesOf<Original[Id]>]: readonly [defect: string, request: string];
    };
  };
};
type CodesOf<Words> = Words extends { readonly codes: infer Codes } ? keyof Codes : never;

/** The words of one language. */
export interface Catalogue {
  readonly frame: Readonly<Record<FrameKey, string>>;
  readonly list: Readonly<Record<ListKey, string>>;
  /** What else changed since the last revision. */
  readonly changes: Readonly<Record<ChangeKey, string>>;
  readonly proof: Readonly<Record<ProofKey, string>>;
  readonly offers: Readonly<Record<OfferKey, string>>;
  readonly general: Readonly<
    Record<
      GeneralCode,
      {
        readonly defect: string;
        readonly effect: string;
        readonly request: string;
        readonly settled: string;
        readonly offer: OfferKey;
      }
    >
  >;
  readonly findings: FindingsLike<English['findings']>;
}

/** What the printer can do, by check and code, in a language that is not that of the report. */
export type PrinterWords = {
  readonly [Id in CheckId]: { readonly [Code in CodesOf<English['findings'][Id]>]: string };
};
