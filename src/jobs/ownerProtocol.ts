import type { JobStore } from './jobStore.ts';

/** Sent by the owner of a store as its first line; programs that say another do not understand each other. */
export const greeting = 'plateglass jobs 2';

/** One line of JSON for each call, and one for its answer, in whatever order they are ready. */
export interface Call {
  readonly id: number;
  readonly name: CallName;
  readonly values: readonly unknown[];
}
export type Answer =
  | { readonly id: number; readonly value: unknown }
  | { readonly id: number; readonly error: { readonly name: string; readonly message: string } };

export type CallName = Exclude<keyof JobStore, 'close'>;

const all: Record<CallName, true> = {
  takeIn: true,
  claim: true,
  renew: true,
  finish: true,
  handBack: true,
  fail: true,
  handBackAllOf: true,
  tryAgain: true,
  planMove: true,
  claimMove: true,
  endMove: true,
  addEffects: true,
  claimEffect: true,
  effectBegun: true,
  effectDone: true,
  effectFailed: true,
  effectsOf: true,
  decide: true,
  undoDecision: true,
  makeCustomerLink: true,
  customerLinkBy: true,
  customerLinks: true,
  revokeCustomerLink: true,
  answerAsCustomer: true,
  job: true,
  revision: true,
  revisionOfArtifact: true,
  find: true,
  counts: true,
  changesAfter: true,
  prune: true,
  blobsInUse: true,
  exportRows: true,
};
export const callNames = Object.keys(all) as CallName[];

/** A store whose every call goes through `call`. */
export function storeOfCalls(
  call: (name: CallName, values: readonly unknown[]) => Promise<unknown>,
  close: () => Promise<void>,
): JobStore {
  const calls = callNames.map((name) => [name, (...values: unknown[]) => call(name, values)]);
  return { ...Object.fromEntries(calls), close } as JobStore;
}

/** Cuts what comes in into lines. */
export function lineReader(onLine: (line: string) => void): (part: string) => void {
  let rest = '';
  return (part) => {
    const lines = (rest + part).split('\n');
    rest = lines.pop()!;
    for (const line of lines) onLine(line);
  };
}
