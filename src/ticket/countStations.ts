import type { ScreenRole } from './ticket.ts';

export interface StationCount {
  readonly inks: number;
  readonly flashes: number;
  readonly coolDowns: number;
  /** Print heads needed in all. */
  readonly total: number;
}

/**
 * Print heads a job takes: one an ink, and those of the flash between an underbase and what prints on it, because
 * nothing prints well on a wet base. `flashStations` as in the ticket: 0 beside the heads, 1, or 2 with a cool-down.
 * Source: common practice; one published count is six colours, a flash and a cool-down in eight stations.
 */
export function countStations(roles: readonly ScreenRole[], flashStations: number): StationCount {
  const bases = roles.filter((role) => role === 'underbase').length;
  const isFlashed = bases > 0 && bases < roles.length;
  const flashes = isFlashed && flashStations >= 1 ? 1 : 0;
  const coolDowns = isFlashed && flashStations >= 2 ? 1 : 0;
  return { inks: roles.length, flashes, coolDowns, total: roles.length + flashes + coolDowns };
}
