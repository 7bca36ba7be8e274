import { foldInkName, normaliseInkName } from '../colour/normaliseInkName.ts';
import { resolvePlateLimits, type SetPlateLimits, type SetValue } from './plateLimits.ts';
import { addProblem } from './readValues.ts';
import { type NamedMesh, resolveMesh } from './resolveMesh.ts';
import { roleOfInkName } from './roleOfInkName.ts';
import type { Mesh, ResolvedScreen, ScreenRole, Sourced, TicketProblem } from './ticket.ts';
import { showValue } from './ticketProblems.ts';
import type { PlateLimitKey, ShopValues, TicketValues } from './ticketSchema.ts';

type FrameValues = NonNullable<TicketValues['screens']>[number];

interface Asked {
  readonly ticket: TicketValues;
  readonly shop: ShopValues;
  readonly meshes: readonly NamedMesh[] | null;
  readonly registrationMm: Sourced<number>;
  readonly ticketProblems: TicketProblem[];
  readonly shopProblems: TicketProblem[];
}

/** One file's frames with their meshes looked up. */
interface Listed {
  readonly name: string;
  readonly values: FrameValues;
  readonly mesh: Mesh | null;
  readonly path: string;
}

const plateLimitKeys: readonly PlateLimitKey[] = [
  'minLineMm',
  'minGapMm',
  'minDotMm',
  'minIslandMm',
  'trapMm',
  'chokeMm',
  'maxTrapMm',
  'minTypePt',
  'minMeshRatio',
  'lostTonePercent',
  'moirePercent',
];

/** The frames the ticket lists, and the frame of any ink; the shop's file fills in what the ticket leaves open. */
export function resolveScreens(asked: Asked): {
  readonly listed: readonly ResolvedScreen[];
  readonly screenFor: (inkName: string) => ResolvedScreen;
} {
  const { ticket, shop, meshes } = asked;
  const ofTicket = listFrames(ticket, meshes, asked.ticketProblems);
  const ofShop = listFrames(shop, meshes, asked.shopProblems);
  checkTraps(ticket, '', asked.ticketProblems);
  checkTraps(shop, '', asked.shopProblems);
  const usualMesh = {
    ticket: ticket.mesh === undefined ? null : resolveMesh(ticket.mesh, 'mesh', meshes, asked.ticketProblems),
    shop: shop.mesh === undefined ? null : resolveMesh(shop.mesh, 'mesh', meshes, asked.shopProblems),
  };

  const build = (inkName: string, own: Listed | undefined): ResolvedScreen => {
    const house = matchFrame(ofShop, inkName);
    const mesh = firstMesh([
      [own?.mesh, 'ticket'],
      [usualMesh.ticket, 'ticket'],
      [house?.mesh, 'shop'],
      [usualMesh.shop, 'shop'],
    ]);
    const set: Partial<Record<PlateLimitKey, SetValue>> = {};
    for (const key of plateLimitKeys) {
      const value =
        setValue(own?.values.limits?.[key], 'ticket', `${own?.path}.limits.${key}`) ??
        setValue(ticket.limits?.[key], 'ticket', `limits.${key}`) ??
        setValue(house?.values.limits?.[key], 'shop', `${house?.path}.limits.${key}`) ??
        setValue(shop.limits?.[key], 'shop', `limits.${key}`);
      if (value) set[key] = value;
    }
    return {
      inkName,
      file: own?.values.file ?? null,
      role: roleOf(inkName, own, house),
      mesh,
      limits: resolvePlateLimits(mesh?.value ?? null, set satisfies SetPlateLimits, asked.registrationMm),
      listed: own !== undefined,
    };
  };

  const listed = ofTicket.map((own) => build(own.name, own));
  const screenFor = (inkName: string): ResolvedScreen => {
    const own = matchFrame(ofTicket, inkName);
    return own === undefined ? build(inkName, undefined) : listed[ofTicket.indexOf(own)];
  };
  return { listed, screenFor };
}

function listFrames(
  file: { readonly screens?: readonly FrameValues[] },
  meshes: readonly NamedMesh[] | null,
  problems: TicketProblem[],
): readonly Listed[] {
  const listed: Listed[] = [];
  const seen = new Set<string>();
  for (const [index, values] of (file.screens ?? []).entries()) {
    const path = `screens[${index}]`;
    const name = values.ink ?? values.file?.replace(/\.[^.]*$/u, '');
    const mesh = values.mesh === undefined ? null : resolveMesh(values.mesh, `${path}.mesh`, meshes, problems);
    if (name === undefined) {
      addProblem(problems, {
        path: `${path}.ink`,
        expected: 'the name of an ink, or file: the name of a film',
        received: 'nothing',
      });
      continue;
    }
    const folded = foldInkName(name);
    if (seen.has(folded)) {
      addProblem(problems, { path: `${path}.ink`, expected: 'an ink not listed above', received: showValue(name) });
    }
    seen.add(folded);
    checkTraps(values, `${path}.`, problems);
    listed.push({ name, values, mesh, path });
  }
  return listed;
}

function checkTraps(values: Pick<FrameValues, 'limits'>, path: string, problems: TicketProblem[]): void {
  const { trapMm, maxTrapMm } = values.limits ?? {};
  if (trapMm === undefined || maxTrapMm === undefined || maxTrapMm >= trapMm) return;
  addProblem(problems, {
    path: `${path}limits.maxTrapMm`,
    expected: `at least trapMm, ${trapMm}`,
    received: showValue(maxTrapMm),
  });
}

/** The frame of an ink: the one of that very name, else the only one whose normalised name is the same. */
function matchFrame(frames: readonly Listed[], inkName: string): Listed | undefined {
  const folded = foldInkName(inkName);
  const exact = frames.find((frame) => foldInkName(frame.name) === folded);
  if (exact) return exact;
  const normalised = normaliseInkName(inkName);
  const alike = frames.filter((frame) => normaliseInkName(frame.name) === normalised);
  return alike.length === 1 ? alike[0] : undefined;
}

function roleOf(inkName: string, own: Listed | undefined, house: Listed | undefined): Sourced<ScreenRole> {
  if (own?.values.role) return { value: own.values.role, from: 'ticket' };
  if (house?.values.role) return { value: house.values.role, from: 'shop' };
  return { value: roleOfInkName(inkName), from: 'default' };
}

function firstMesh(
  candidates: readonly (readonly [Mesh | null | undefined, 'ticket' | 'shop'])[],
): Sourced<Mesh> | null {
  for (const [mesh, from] of candidates) if (mesh) return { value: mesh, from };
  return null;
}

function setValue(value: number | undefined, from: SetValue['from'], path: string): SetValue | undefined {
  return value === undefined ? undefined : { value, from, path };
}
