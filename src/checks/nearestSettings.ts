import type { Ruling } from '../mesh/beat.ts';
import type { MeshMeasures } from '../mesh/meshGeometry.ts';
import { meshByFormula } from '../mesh/meshGeometry.ts';
import { nameMesh } from '../mesh/meshLookup.ts';
import { meshTable } from '../mesh/meshTable.ts';
import { type NearSetting, nearSettings, type Setting } from '../mesh/nearSettings.ts';
import type { ResolvedTicket } from '../ticket/ticket.ts';

/** Meshes to choose from: those of the shop, else the usual ones. */
export function meshesToChooseFrom({ meshes }: Pick<ResolvedTicket, 'meshes'>): readonly MeshMeasures[] {
  if (meshes.length > 0) return meshes.map(({ mesh }) => mesh);
  return meshTable
    .filter(({ thread }) => thread === 'medium')
    .map(({ threadsPerCm, threadUm }) => meshByFormula(threadsPerCm, threadUm));
}

/** The nearest good settings by the rule handed in, nearest first. */
export function goodSettings(
  ticket: ResolvedTicket,
  ruling: Ruling,
  mesh: MeshMeasures,
  isGood: (setting: Setting) => boolean,
): readonly NearSetting[] {
  return nearSettings({ ruling, mesh }, meshesToChooseFrom(ticket), isGood);
}

/** `20° instead of 22.5°, 52 lpi instead of 55, or mesh 140/cm, 34 µm`. */
export function settingsInWords(found: readonly NearSetting[], ruling: Ruling): string {
  const words = found.map((setting) => settingInWords(setting, ruling));
  if (words.length < 2) return words.join('');
  return `${words.slice(0, -1).join('; ')}; or ${words.at(-1)}`;
}

function settingInWords({ changes, ruling, mesh }: NearSetting, was: Ruling): string {
  const angle = `${plain(ruling.angleDeg)}° instead of ${plain(was.angleDeg)}°`;
  const lines = `${plain(ruling.rulingLpi)} lpi instead of ${plain(was.rulingLpi)}`;
  if (changes === 'angle') return angle;
  if (changes === 'ruling') return lines;
  return changes === 'mesh' ? `mesh ${nameMesh(mesh)}` : `${lines} at ${angle}`;
}

/** The first of them that the film's maker can change, in the customer's words; null when only the mesh can be. */
export function filmChangeInWords(found: readonly NearSetting[], ruling: Ruling): string | null {
  const [first] = found.filter(({ changes }) => changes !== 'mesh');
  if (first === undefined) return null;
  const angle = `at ${plain(first.ruling.angleDeg)}° instead of ${plain(ruling.angleDeg)}°`;
  const lines = `with ${plain(first.ruling.rulingLpi)} lines an inch instead of ${plain(ruling.rulingLpi)}`;
  if (first.changes === 'angle') return angle;
  return first.changes === 'ruling' ? lines : `${lines}, ${angle}`;
}

/** A number with one decimal, or none. */
export function plain(value: number): string {
  return String(Number(value.toFixed(1)));
}
