import type { Artwork, Film, ReadFilm } from '../artwork/film.ts';
import { joinFilms } from '../artwork/joinFilms.ts';
import { artBoxOf } from '../checks/artBox.ts';
import type { Ask } from '../checks/ask.ts';
import { checks as allChecks } from '../checks/index.ts';
import type { CheckResult } from '../findings/finding.ts';
import { planPress } from '../pressPlan/planPress.ts';
import type { PressPlan } from '../pressPlan/pressPlan.ts';
import type { ReportFilm } from '../report/reportJson.ts';
import type { ResolvedTicket } from '../ticket/ticket.ts';
import { runCheck } from './runCheck.ts';

/** The films of a job joined as its ticket names them. */
export function joinJob(jobName: string, films: readonly ReadFilm[], ticket: ResolvedTicket): Artwork {
  return joinFilms(films, {
    jobName,
    screens: ticket.screens.map(({ inkName, file }) => ({ inkName, file: file ?? undefined })),
    printWhite: printsWhite(ticket),
  });
}

export interface Judged {
  readonly checks: readonly CheckResult[];
  readonly plan: PressPlan;
  /** The art of each film, by the film's id. */
  readonly art: ReadonlyMap<string, ReportFilm['artMm']>;
}

/** Runs every check over what was measured, and plans the press. Sees no plate. */
export function judgeJob(ask: Ask): Judged {
  const { artwork, ticket } = ask;
  const checks = allChecks.map((check) => runCheck(check, ask));
  const plan = planPress({
    artwork,
    ticket,
    coverageByInkId: coverageByInk(ask),
    touchingInkIdPairs: ask.overlaps.map(
      ({ plateIds }) => [inkOf(artwork, plateIds[0]), inkOf(artwork, plateIds[1])] as const,
    ),
  });
  return { checks, plan, art: new Map(artwork.films.map((film) => [film.id, artOf(ask, film)])) };
}

/** Null as well where the marks could not be told from the art. */
function artOf(ask: Ask, film: Film): ReportFilm['artMm'] {
  const found = artBoxOf(ask, film);
  return found === null || found.withMarks ? null : { ...found.boxMm, plusMinusMm: found.plusMinusMm };
}

/** White in the art is an ink when the ticket lists one; on a white garment without one it is the garment. */
function printsWhite(ticket: ResolvedTicket): 'yes' | 'no' | 'unknown' {
  if (ticket.screens.some(({ inkName, role }) => /\bwhite\b/i.test(inkName) || role.value === 'highlight'))
    return 'yes';
  return ticket.screens.length > 0 || /^#f[0-9a-f]f[0-9a-f]f[0-9a-f]$/i.test(ticket.garment.colourHex.value)
    ? 'no'
    : 'unknown';
}

function coverageByInk({ plates }: Ask): Map<string, number> {
  const coverage = new Map<string, number>();
  for (const { ink, opacity } of plates)
    coverage.set(ink.id, Math.max(coverage.get(ink.id) ?? 0, opacity.coveragePercent));
  return coverage;
}

function inkOf(artwork: Artwork, plateId: string): string {
  return artwork.plateSources.find(({ id }) => id === plateId)!.inkId;
}
