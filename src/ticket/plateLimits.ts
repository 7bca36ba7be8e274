import type { Limit, Unit } from '../findings/finding.ts';
import { finestDotMm, finestGapMm, finestIslandMm, finestLineMm, garmentInkSpreadUm } from '../mesh/detailRules.ts';
import { nameMesh } from '../mesh/meshLookup.ts';
import { mmPerPoint } from '../units/lengths.ts';
import type { Mesh, PlateLimits, Sourced } from './ticket.ts';
import type { PlateLimitKey } from './ticketSchema.ts';

/** A value somebody set, and where: the path in the ticket or in the shop's file. */
export interface SetValue {
  readonly value: number;
  readonly from: 'ticket' | 'shop';
  readonly path: string;
}

export type SetPlateLimits = Readonly<Partial<Record<PlateLimitKey, SetValue>>>;

const garmentSource = 'Garment printers’ published art requirements: lines 1 pt, reversed 2 pt; type 8 pt';
const meshSource = 'Rule of weavers’ handbooks (no edition cited); ISO 9044 terms for the opening';
const practice = 'common practice, no source';
const defaultTrapMm = 0.25;
const defaultMaxTrapMm = 1;
const garmentLineMm = mmPerPoint;
const garmentReversedMm = 2 * mmPerPoint;

interface DetailRule {
  readonly key: 'minLineMm' | 'minGapMm' | 'minDotMm' | 'minIslandMm';
  readonly ofMesh: (mesh: Mesh) => number;
  readonly meshWords: string;
  readonly floorMm: number;
  readonly floorWords: string;
}

const detailRules: readonly DetailRule[] = [
  {
    key: 'minLineMm',
    ofMesh: finestLineMm,
    meshWords: 'one opening and two threads',
    floorMm: garmentLineMm,
    floorWords: '1 pt, the floor for lines on garments',
  },
  {
    key: 'minGapMm',
    ofMesh: (mesh) => finestGapMm(mesh),
    meshWords: `one opening, two threads and ${garmentInkSpreadUm} µm of ink spread at each edge`,
    floorMm: garmentReversedMm,
    floorWords: '2 pt, the floor for reversed lines on garments',
  },
  {
    key: 'minDotMm',
    ofMesh: finestDotMm,
    meshWords: 'one opening and two threads',
    floorMm: garmentLineMm,
    floorWords: '1 pt, the floor for lines on garments, taken for dots',
  },
  {
    key: 'minIslandMm',
    ofMesh: finestIslandMm,
    meshWords: 'the larger of √2 openings and one opening with two threads',
    floorMm: garmentReversedMm,
    floorWords: '2 pt, the floor for reversed lines on garments, taken for islands',
  },
];

/**
 * The limits of one ink's plate. What the ticket or shop sets wins; else the mesh rule when the mesh is known; else the
 * floors customers of garment printers are given. The rule names both numbers, so that people see which governed.
 */
export function resolvePlateLimits(
  mesh: Mesh | null,
  set: SetPlateLimits,
  registrationMm: Sourced<number>,
): PlateLimits {
  const [line, gap, dot, island] = detailRules.map((rule) => detailLimit(rule, mesh, set[rule.key]));
  const trapMm = overlapLimit('trap', set.trapMm, registrationMm);
  const leastMaxTrapMm = Math.max(defaultMaxTrapMm, 2 * trapMm.value);
  return {
    minLineMm: line,
    minGapMm: gap,
    minDotMm: dot,
    minIslandMm: island,
    trapMm,
    chokeMm: overlapLimit('choke', set.chokeMm, registrationMm),
    maxTrapMm:
      setLimit(set.maxTrapMm, 'mm') ??
      defaultLimit(leastMaxTrapMm, 'mm', 'an overlap wider than 1 mm, or twice the trap, shows as a third colour'),
    minTypePt: setLimit(set.minTypePt, 'pt') ?? {
      ...defaultLimit(8, 'pt', '8 pt, the floor for type on garments (12 pt reversed)'),
      source: garmentSource,
    },
    minMeshRatio:
      setLimit(set.minMeshRatio, 'ratio') ??
      defaultLimit(3.5, 'ratio', '3.5 threads to a line or more; weavers’ guides name 2.5, 3.75 and 5'),
    lostTonePercent:
      setLimit(set.lostTonePercent, 'percent') ??
      defaultLimit(2, 'percent', 'at most 2 % of a halftone in tones its mesh does not hold'),
    moirePercent:
      setLimit(set.moirePercent, 'percent') ??
      defaultLimit(1.5, 'percent', 'an estimate: beats that swing by 1.5 % or more may be seen, by 4 % plainly'),
  };
}

function detailLimit(rule: DetailRule, mesh: Mesh | null, set: SetValue | undefined): Limit {
  const floorMm = roundLimit(rule.floorMm);
  const floorText = `${floorMm.toFixed(2)} mm (${rule.floorWords})`;
  if (mesh === null) {
    return (
      setLimit(set, 'mm') ?? {
        value: floorMm,
        unit: 'mm',
        from: 'default',
        rule: `${rule.floorWords}: ${floorMm.toFixed(2)} mm; no mesh is given, so the mesh rule could not be used`,
        source: garmentSource,
      }
    );
  }
  const meshMm = roundLimit(rule.ofMesh(mesh));
  const assumed = mesh.threadAssumed ? ' (thread assumed, the usual one for this count)' : '';
  const meshText = `mesh ${nameMesh(mesh)}${assumed}`;
  const limit = setLimit(set, 'mm');
  if (limit) return { ...limit, rule: `${limit.rule}; by ${meshText} it would be ${meshMm.toFixed(2)} mm` };
  return {
    value: meshMm,
    unit: 'mm',
    from: 'mesh',
    rule: `${meshText}: ${rule.meshWords} = ${meshMm.toFixed(2)} mm, which governs; without a mesh it would be ${floorText}`,
    source: meshSource,
  };
}

function overlapLimit(what: 'trap' | 'choke', set: SetValue | undefined, registrationMm: Sourced<number>): Limit {
  const limit = setLimit(set, 'mm');
  if (limit) return limit;
  if (registrationMm.value > defaultTrapMm && registrationMm.from !== 'default') {
    return {
      value: registrationMm.value,
      unit: 'mm',
      from: registrationMm.from,
      rule: `the ${what} must cover what the press may be off: press.registrationMm`,
      source: practice,
    };
  }
  return defaultLimit(defaultTrapMm, 'mm', `usual ${what} on an automatic garment press`);
}

/** The limit as it was set, its rule the path where it was set; undefined when nobody did. */
export function setLimit(set: SetValue | undefined, unit: Unit): Limit | undefined {
  if (set === undefined) return undefined;
  const whose = set.from === 'ticket' ? 'your ticket' : 'shop file';
  return { value: set.value, unit, from: set.from, rule: set.path, source: whose };
}

export function defaultLimit(value: number, unit: Unit, rule: string): Limit {
  return { value, unit, from: 'default', rule, source: practice };
}

/** To a tenth of a µm, so that the limit printed is the limit judged by. */
function roundLimit(mm: number): number {
  return Math.round(mm * 10_000) / 10_000;
}
