import type { ReportJson } from '../../../../src/report/reportJson.ts';
import type { PlateList } from '../../../shared/plates.ts';
import type { RackFilm } from '../table/looks.ts';

/** The films as they are printed: by the press plan, and what it does not name on top. */
export function firstRack(report: ReportJson, list: PlateList): RackFilm[] {
  const stationOf = new Map<string, number>();
  report.plan.order.forEach((step, index) => {
    if (step.what === 'ink' && step.inkId !== null && !stationOf.has(step.inkId)) stationOf.set(step.inkId, index);
  });
  const inkOf = new Map(report.plates.map(({ id, inkId }) => [id, inkId]));
  const place = (plate: number) => stationOf.get(inkOf.get(list.plates[plate].plateId) ?? '') ?? 1000 + plate;
  return list.plates
    .map((_, plate) => ({ plate, isOn: true, opacity: 1 }))
    .sort((a, b) => place(a.plate) - place(b.plate));
}

/** Carries one film to another place in the rack. */
export function carried(rack: readonly RackFilm[], from: number, to: number): RackFilm[] {
  const next = [...rack];
  const [film] = next.splice(from, 1);
  next.splice(Math.min(rack.length - 1, Math.max(0, to)), 0, film);
  return next;
}
