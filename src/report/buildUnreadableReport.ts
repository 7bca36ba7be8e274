import type { UnreadableFilmError } from '../artwork/unreadableFilmError.ts';
import type { ResolvedTicket } from '../ticket/ticket.ts';
import type { ReportJson } from './reportJson.ts';
import { reportTicket } from './reportTicket.ts';

/** The report of a job that could not be inspected because one of its films could not be opened. */
export function buildUnreadableReport(input: {
  readonly version: string;
  readonly jobName: string;
  readonly ticket: ResolvedTicket;
  readonly error: UnreadableFilmError;
}): ReportJson {
  const { error } = input;
  return {
    schema: 'plateglass/report/1',
    version: input.version,
    verdict: 'couldNotRun',
    error: { file: error.fileName, code: error.code, message: error.message, remedy: error.remedy },
    job: { name: input.jobName, ticketFile: input.ticket.ticketFile },
    ticket: reportTicket(input.ticket, []),
    films: [],
    joined: [],
    inks: [],
    plates: [],
    pairs: [],
    underbase: null,
    registration: null,
    checks: [],
    notLookedAt: [],
    plan: { order: [], stationsNeeded: 0, stationsOwned: input.ticket.press.heads.value, notes: [], cautions: [] },
    timings: {},
  };
}
