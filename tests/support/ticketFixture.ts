import type { Limit, Unit } from '../../src/findings/finding.ts';
import type { Mesh, PlateLimits, ResolvedScreen, ResolvedTicket, ScreenRole } from '../../src/ticket/ticket.ts';

type PlateLimitValues = Partial<Record<keyof PlateLimits, number>>;
type JobLimitValues = Partial<Record<keyof ResolvedTicket['limits'], number>>;

export interface FrameSpec {
  readonly ink: string;
  readonly role?: ScreenRole;
  readonly mesh?: Mesh;
  readonly limits?: PlateLimitValues;
}

export interface TicketSpec {
  /** `null`: the ticket names no garment colour and white is assumed. */
  readonly garmentHex?: string | null;
  readonly print?: { readonly widthMm: number; readonly heightMm: number } | null;
  readonly platenMm?: readonly [number, number];
  readonly flashStations?: number;
  readonly marks?: 'inArt' | 'addedAtOutput';
  readonly mesh?: Mesh;
  /** Roles of inks the ticket does not list, as its defaults would guess them. */
  readonly roles?: Readonly<Record<string, ScreenRole>>;
  readonly plateLimits?: PlateLimitValues;
  /** Where the plates' limits come from; the ticket unless given. */
  readonly plateLimitsFrom?: Limit['from'];
  readonly meshes?: readonly Mesh[];
  readonly limits?: JobLimitValues;
  readonly screens?: readonly FrameSpec[];
}

const plateLimitValues: Record<keyof PlateLimits, number> = {
  minLineMm: 0.35,
  minGapMm: 0.5,
  minDotMm: 0.4,
  minIslandMm: 0.4,
  trapMm: 0.25,
  chokeMm: 0.25,
  maxTrapMm: 1,
  minTypePt: 8,
  minMeshRatio: 3.5,
  lostTonePercent: 2,
  moirePercent: 1.5,
};

const plateLimitUnits: Partial<Record<keyof PlateLimits, Unit>> = {
  minTypePt: 'pt',
  minMeshRatio: 'ratio',
  lostTonePercent: 'percent',
  moirePercent: 'percent',
};

const jobLimitValues: Record<keyof ResolvedTicket['limits'], readonly [number, Unit]> = {
  maxInks: [4, 'count'],
  minImagePpi: [200, 'ppi'],
  sizeToleranceMm: [0.5, 'mm'],
  nearDuplicateDeltaE: [3, 'deltaE'],
  semiOpaquePercent: [0.1, 'percent'],
  registrationMm: [0.25, 'mm'],
  scalePercent: [0.1, 'percent'],
  minAngleDifferenceDeg: [15, 'deg'],
  softDotPercent: [10, 'percent'],
  markCount: [2, 'count'],
  platenMarginMm: [25, 'mm'],
  heavyCoveragePercent: [150, 'percent'],
  stations: [6, 'count'],
};

/** 43 threads per cm of 80 µm: pitch 232.6 µm, opening 152.6 µm. */
export const mesh43: Mesh = {
  threadsPerCm: 43,
  threadUm: 80,
  openingUm: 10000 / 43 - 80,
  openingFrom: 'formula',
  weave: 'plain',
};

/** A ticket whose limits are the ones above, each overridable. */
export function ticketOf(spec: TicketSpec = {}): ResolvedTicket {
  const screens = (spec.screens ?? []).map((frame) => screenOf(frame, spec, true));
  const print = spec.print === undefined ? null : spec.print;
  return {
    job: null,
    customer: null,
    ticketFile: 'ticket.yaml',
    shopFile: null,
    garment: {
      colourHex:
        typeof spec.garmentHex === 'string'
          ? { value: spec.garmentHex, from: 'ticket' }
          : { value: '#ffffff', from: 'default' },
      fabric: { value: 'cotton', from: 'default' },
    },
    print: {
      widthMm: print === null ? null : { value: print.widthMm, from: 'ticket' },
      heightMm: print === null ? null : { value: print.heightMm, from: 'ticket' },
      quantity: null,
      location: null,
      placement: null,
      viewingDistanceMm: { value: 1000, from: 'default' },
    },
    press: {
      heads: { value: 6, from: 'ticket' },
      registrationMm: { value: 0.25, from: 'ticket' },
      platenMm: { value: spec.platenMm ?? [400, 450], from: 'ticket' },
      flashStations: { value: spec.flashStations ?? 1, from: 'ticket' },
    },
    film: { dpi: null, marks: { value: spec.marks ?? 'inArt', from: 'ticket' } },
    limits: mapValues(jobLimitValues, (key, [value, unit]) => limitOf(spec.limits?.[key] ?? value, unit)),
    frames: [],
    meshes: (spec.meshes ?? []).map((mesh) => ({ name: `${mesh.threadsPerCm}-${mesh.threadUm}`, mesh })),
    screens,
    screenFor: (name) =>
      screens.find(({ inkName }) => inkName.toLowerCase() === name.toLowerCase()) ??
      screenOf({ ink: name, role: spec.roles?.[name] }, spec, false),
  };
}

function screenOf(frame: FrameSpec, spec: TicketSpec, listed: boolean): ResolvedScreen {
  const mesh = frame.mesh ?? spec.mesh;
  const values = { ...plateLimitValues, ...spec.plateLimits, ...frame.limits };
  return {
    inkName: frame.ink,
    file: null,
    role: { value: frame.role ?? 'colour', from: 'ticket' },
    mesh: mesh === undefined ? null : { value: mesh, from: 'ticket' },
    limits: mapValues(values, (key, value) => limitOf(value, plateLimitUnits[key] ?? 'mm', spec.plateLimitsFrom)),
    listed,
  };
}

function limitOf(value: number, unit: Unit, from: Limit['from'] = 'ticket'): Limit {
  return { value, unit, from, rule: 'your ticket', source: 'the ticket' };
}

function mapValues<K extends string, V, R>(record: Record<K, V>, map: (key: K, value: V) => R): Record<K, R> {
  const entries = (Object.entries(record) as [K, V][]).map(([key, value]) => [key, map(key, value)] as const);
  return Object.fromEntries(entries) as Record<K, R>;
}
