import type { Artwork, Film } from '../artwork/film.ts';
import { workingGrid } from '../plates/workingGrid.ts';
import type { PixelGrid } from '../raster/pixelGrid.ts';
import type { PlateLimits, ResolvedTicket } from '../ticket/ticket.ts';

/**
 * Searches reach at least so far, so that a report says more than "wide enough", and from there in whole steps, so that
 * most other tickets need no other search. The least for detail is what the limits of an unknown mesh ask for.
 */
const detailSearch = { leastMm: 1.6, stepMm: 0.4 };
const overlapSearch = { leastMm: 1.25, stepMm: 0.25 };
/** The coarsest limit that a resolution is chosen by. */
const coarsestLimitMm = 1;
/** Films whose sizes differ by more are not laid on each other. */
const sameSizeMm = 1;

/** Everything the ticket has a say in when a job is measured; two tickets of one plan ask for the same measurements. */
export interface MeasuringPlan {
  readonly films: readonly { readonly filmId: string; readonly grid: PixelGrid; readonly tooCoarse: boolean }[];
  readonly plates: readonly {
    readonly plateId: string;
    readonly filmId: string;
    readonly inkKey: string;
    readonly searchToMm: number;
    readonly refineBelowMm: number;
  }[];
  /** Every two plates on one film or on films of one size, with the other plates that may cover a gap between them. */
  readonly pairs: readonly {
    readonly plateIds: readonly [string, string];
    readonly searchToMm: number;
    readonly coverPlateIds: readonly string[];
  }[];
  /** Null when no plate is a base with others on it. */
  readonly underbase: {
    readonly basePlateId: string;
    readonly topPlateIds: readonly string[];
    readonly searchToMm: number;
  } | null;
}

export function planMeasuring(artwork: Artwork, ticket: ResolvedTicket): MeasuringPlan {
  const smallestMm = smallestLimitMm(artwork, ticket);
  const plates = artwork.plateSources.map((source) => {
    const film = artwork.films.find(({ id }) => id === source.filmId)!;
    const { name } = artwork.inks.find(({ id }) => id === source.inkId)!;
    const { role, limits } = ticket.screenFor(name);
    return { ...source, film, limits, isBase: role.value === 'underbase' };
  });
  const base = plates.find(({ isBase }) => isBase);
  return {
    films: artwork.films
      .filter(({ id }) => plates.some(({ filmId }) => filmId === id))
      .map((film) => ({ filmId: film.id, ...workingGrid(film, smallestMm) })),
    plates: plates.map(({ id, filmId, inkKey, limits }) => {
      const searchToMm = searchFor(2 * Math.max(...detailLimitsMm(limits), 0), detailSearch);
      return { plateId: id, filmId, inkKey, searchToMm, refineBelowMm: 0.8 * searchToMm };
    }),
    pairs: plates.flatMap((first, index) =>
      plates
        .slice(index + 1)
        .filter((second) => sameSpace(first.film, second.film))
        .map((second) => ({
          plateIds: [first.id, second.id] as const,
          searchToMm: searchFor(
            1.25 * Math.max(first.limits.maxTrapMm.value, second.limits.maxTrapMm.value),
            overlapSearch,
          ),
          // Clear film between two inks is no gap where a third prints on it, unless that is the base below both.
          coverPlateIds: plates
            .filter((third) => third !== first && third !== second && !third.isBase)
            .filter((third) => sameSpace(third.film, first.film))
            .map(({ id }) => id),
        })),
    ),
    underbase:
      base === undefined || plates.length < 2
        ? null
        : {
            basePlateId: base.id,
            topPlateIds: plates
              .filter((plate) => plate !== base && sameSpace(plate.film, base.film))
              .map(({ id }) => id),
            searchToMm: searchFor(2 * base.limits.chokeMm.value, overlapSearch),
          },
  };
}

/** What another plan asks for that was not measured by this one, a sentence each; empty when nothing is missing. */
export function notMeasuredBy(made: MeasuringPlan, wanted: MeasuringPlan): string[] {
  const same = (a: unknown, b: unknown) => JSON.stringify(a) === JSON.stringify(b);
  const which = ({ plates }: MeasuringPlan) => plates.map(({ plateId, filmId, inkKey }) => [plateId, filmId, inkKey]);
  if (!same(which(made), which(wanted))) return ['Other inks make plates by this ticket.'];
  const reasons: string[] = [];
  for (const [index, { grid, tooCoarse }] of wanted.films.entries()) {
    const before = made.films[index];
    if (same(before, wanted.films[index])) continue;
    reasons.push(
      tooCoarse || before.tooCoarse
        ? 'The plates are drawn at another resolution for these limits.'
        : `The plates are drawn at ${inMicrons(grid)} a pixel for these limits; they were measured at ${inMicrons(before.grid)}.`,
    );
  }
  const wider = (what: string, toMm: number, wantedMm: number) =>
    `${what} was sought up to ${toMm} mm; these limits ask for ${wantedMm} mm.`;
  for (const [index, { searchToMm }] of wanted.plates.entries())
    if (made.plates[index].searchToMm !== searchToMm)
      reasons.push(wider('Fine detail', made.plates[index].searchToMm, searchToMm));
  for (const [index, pair] of wanted.pairs.entries()) {
    const before = made.pairs[index];
    if (before.searchToMm !== pair.searchToMm) reasons.push(wider('Overlap', before.searchToMm, pair.searchToMm));
    if (!same(before.coverPlateIds, pair.coverPlateIds)) reasons.push('Another ink is the base by this ticket.');
  }
  if (!same(made.underbase, wanted.underbase))
    reasons.push(
      made.underbase !== null && wanted.underbase?.basePlateId === made.underbase.basePlateId
        ? wider('The base', made.underbase.searchToMm, wanted.underbase.searchToMm)
        : 'Another ink is the base by this ticket.',
    );
  return [...new Set(reasons)];
}

function searchFor(widthMm: number, { leastMm, stepMm }: typeof detailSearch): number {
  // What is wider by rounding alone is not wider.
  const steps = Math.max(0, Math.ceil((widthMm - leastMm) / stepMm - 1e-9));
  return Number((leastMm + steps * stepMm).toFixed(6));
}

function inMicrons({ pitchXMm }: PixelGrid): string {
  return `${(pitchXMm * 1000).toFixed(1)} µm`;
}

function sameSpace(a: Film, b: Film): boolean {
  return (
    a.id === b.id || (Math.abs(a.widthMm - b.widthMm) <= sameSizeMm && Math.abs(a.heightMm - b.heightMm) <= sameSizeMm)
  );
}

function smallestLimitMm({ inks }: Artwork, ticket: ResolvedTicket): number {
  const printed = inks.filter((ink) => ink.printed);
  return Math.min(
    ...printed.map(({ name }) => Math.min(...detailLimitsMm(ticket.screenFor(name).limits), coarsestLimitMm)),
  );
}

function detailLimitsMm(limits: PlateLimits): number[] {
  return [limits.minLineMm.value, limits.minGapMm.value, limits.minDotMm.value, limits.minIslandMm.value].filter(
    (value) => value > 0,
  );
}
