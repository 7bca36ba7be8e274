import type { Artwork } from '../artwork/film.ts';
import { labelPerInch, nameMesh } from '../mesh/meshLookup.ts';
import { countStations } from '../ticket/countStations.ts';
import type { Mesh, ResolvedTicket } from '../ticket/ticket.ts';
import { cautions } from './cautions.ts';
import { orderInks, type PlannedInk } from './orderInks.ts';
import { inkNotes, inkPairNotes, sizeNotes } from './planNotes.ts';
import type { PressPlan } from './pressPlan.ts';

type Step = PressPlan['order'][number];

/**
 * Proposes the order on press, the flash and cool-down between, and what each frame needs.
 * `coverageByInkId` is the tone-weighted share of the film's area, 0 to 100; `touchingInkIdPairs` are inks with a
 * common edge. A ticket's own order is kept; where it is unusual a note says so.
 */
export function planPress(input: {
  readonly artwork: Artwork;
  readonly ticket: ResolvedTicket;
  readonly coverageByInkId: ReadonlyMap<string, number>;
  readonly touchingInkIdPairs?: readonly (readonly [string, string])[];
}): PressPlan {
  const { artwork, ticket } = input;
  const printed = artwork.inks.filter((ink) => ink.printed);
  const { inks, from, remarks } = orderInks(printed, ticket, input.coverageByInkId);
  const flashStations = ticket.press.flashStations.value;
  const stations = countStations(
    inks.map(({ role }) => role),
    flashStations,
  );
  const stationsOwned = ticket.press.heads.value;
  const notes: string[] = [];
  if (inks.length === 0) notes.push('No ink prints, so there is nothing to plan.');
  else {
    if (from === 'ticket') notes.push('The order is the ticket’s.');
    notes.push(...remarks);
    if (stations.total > stationsOwned) {
      notes.push(
        `Needs ${stations.total} stations and the press has ${stationsOwned}: merge inks, leave one out, or print in two passes.`,
      );
    }
    notes.push(...inkPairNotes(ticket, inks, input.touchingInkIdPairs ?? []));
    notes.push(...sizeNotes(artwork, ticket));
    notes.push(...inkNotes(artwork, ticket, inks));
  }
  return {
    order: layOutStations(inks, flashStations),
    stationsNeeded: stations.total,
    stationsOwned,
    notes,
    cautions,
  };
}

/** The steps with their stations. A flash that stands beside the heads shares the station of the ink before it. */
function layOutStations(inks: readonly PlannedInk[], flashStations: number): readonly Step[] {
  const steps: Step[] = [];
  const lastBase = inks.findLastIndex(({ role }) => role === 'underbase');
  const isFlashed = lastBase >= 0 && inks.some(({ role }) => role !== 'underbase');
  let station = 0;
  for (const [index, planned] of inks.entries()) {
    station += 1;
    steps.push(inkStep(planned, station));
    if (!isFlashed || index !== lastBase) continue;
    if (flashStations >= 1) station += 1;
    steps.push(otherStep('flash', station, 'gel the underbase: nothing prints well on a wet base'));
    if (flashStations >= 2) {
      station += 1;
      steps.push(
        otherStep('coolDown', station, 'let the garment cool, so that the next inks do not gel in their frames'),
      );
    }
  }
  return steps;
}

function inkStep(planned: PlannedInk, station: number): Step {
  const { ink, frame, role, coveragePercent, why } = planned;
  const mesh = frame.mesh === null ? null : meshWords(frame.mesh.value);
  return { station, what: 'ink', inkId: ink.id, inkName: ink.name, role, mesh, coveragePercent, why };
}

function otherStep(what: 'flash' | 'coolDown', station: number, why: string): Step {
  return { station, what, inkId: null, inkName: null, role: null, mesh: null, coveragePercent: null, why };
}

function meshWords(mesh: Mesh): string {
  return `${nameMesh(mesh)} (${labelPerInch(mesh.threadsPerCm)}/in)`;
}
