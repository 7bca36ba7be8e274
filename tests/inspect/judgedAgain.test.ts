import { createHash } from 'node:crypto';
import { readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { serialize } from 'node:v8';
import { describe, expect, it } from 'vitest';
import { type ByteSource, byteSourceOf } from '../../src/artwork/byteSource.ts';
import { crewOfOne } from '../../src/inspect/crew.ts';
import { inspectAgain } from '../../src/inspect/inspectAgain.ts';
import { inspectJob } from '../../src/inspect/inspectJob.ts';
import { judgeAgain, type MeasuredFacts, unpackFacts } from '../../src/inspect/measuredFacts.ts';
import type { PackedPlate } from '../../src/plateArchive/archivePlate.ts';
import { PlateArchive } from '../../src/plateArchive/openArchive.ts';
import { allReaders } from '../../src/readers/allReaders.ts';
import type { Inspection } from '../../src/report/inspection.ts';
import type { Pictures } from '../../src/report/pictures.ts';
import { resolveTicket } from '../../src/ticket/resolveTicket.ts';
import type { ResolvedTicket } from '../../src/ticket/ticket.ts';

const program = 'this build';
const version = '1.2.3';
const films = (...names: string[]) =>
  names.map((name) => {
    const file = fileURLToPath(new URL(`../../fixtures/films/${name}`, import.meta.url));
    return byteSourceOf(name.slice(name.lastIndexOf('/') + 1), readFileSync(file));
  });
const drawn = (name: string, text: string) => [byteSourceOf(name, Buffer.from(text))];
const ticketOf = (values: object): ResolvedTicket =>
  resolveTicket({ ticket: { fileName: 'ticket.json', text: JSON.stringify(values) } });

interface Kept {
  readonly inspection: Inspection;
  readonly packedFacts: Uint8Array;
  readonly facts: MeasuredFacts;
  readonly plates: Map<string, PackedPlate>;
}

async function checked(sources: readonly ByteSource[], ticket: ResolvedTicket): Promise<Kept> {
  const plates = new Map<string, PackedPlate>();
  let packedFacts = new Uint8Array();
  const inspection = await inspectJob({
    ...{ name: 'lantern', sources, ticket, version, readOptions: {}, crew: crewOfOne() },
    readers: allReaders(async () => {
      throw new Error('No film of this test needs converting.');
    }),
    progress: () => undefined,
    clock: () => 0,
    keep: {
      program,
      plate: async (id, packed) => void plates.set(id, packed),
      facts: async (packed) => {
        packedFacts = Uint8Array.from(packed);
      },
    },
  });
  return { inspection, packedFacts, facts: unpackFacts(packedFacts, program)!, plates };
}

/** Pictures are millions of bytes, which to compare one by one takes long. */
function hashOf(pictures: Pictures): string {
  return createHash('sha256').update(serialize(pictures)).digest('hex');
}

async function again({ facts, packedFacts, plates }: Kept, ticket: ResolvedTicket) {
  const opened = new Map(
    await Promise.all(
      [...plates].map(async ([id, packed]) => {
        const archive = await PlateArchive.open(packed.facts, byteSourceOf(id, packed.bytes));
        return [id, { archive, packed }] as const;
      }),
    ),
  );
  return inspectAgain(
    { facts, packedFacts, plates: opened },
    { name: 'lantern', ticket, version, progress: () => undefined, clock: () => 0 },
  );
}

/** Two inks that overlap, with lines from a quarter of a millimetre to one, gaps, dots and islands between them. */
const fineArt = `<svg xmlns="http://www.w3.org/2000/svg" width="80mm" height="60mm" viewBox="0 0 80 60">
  <rect x="5" y="5" width="30" height="20" fill="#c9304e"/><rect x="34.9" y="5" width="30" height="20" fill="#1f8a9e"/>
  ${[0.25, 0.3, 0.35, 0.4, 0.45, 0.5].map((w, i) => `<rect x="${5 + 6 * i}" y="30" width="${w}" height="12" fill="#c9304e"/>`).join('')}
  ${[0.3, 0.4, 0.45, 0.5].map((w, i) => `<circle cx="${8 + 6 * i}" cy="50" r="${w / 2}" fill="#1f8a9e"/>`).join('')}
  ${[0.3, 0.4, 0.45].map((w, i) => `<rect x="${40 + 6 * i}" y="8" width="${w}" height="12" fill="#ffffff"/>`).join('')}
  <path d="M45 30 L60 31 L45 32 Z" fill="#c9304e"/><path d="M45 40 h20 M45 40.5 l20 3" stroke="#1f8a9e" stroke-width="0.32"/>
</svg>`;

const mesh = { threadsPerCm: 43, threadUm: 80 };
const jobs: [string, () => readonly ByteSource[], object, object[]][] = [
  [
    'fine vector art',
    () => drawn('lantern.svg', fineArt),
    {},
    [
      { limits: { minLineMm: 0.4, minGapMm: 0.32, minDotMm: 0.45, trapMm: 0.12 } },
      { limits: { minLineMm: 0.31, maxInks: 1, trapMm: 0.4, maxTrapMm: 0.6 } },
      { garment: { colour: '#102030' }, print: { widthMm: 60, heightMm: 60, quantity: 12 }, press: { heads: 1 } },
      { job: 'Another name', film: { marks: 'addedAtOutput' }, press: { registrationMm: 0.5, platenMm: [70, 50] } },
    ],
  ],
  [
    'separated films, named anew by the ticket',
    () => films('bitmap/set/choir_Black.tif', 'bitmap/set/choir_Coral.tif', 'bitmap/set/choir_Lagoon.tif'),
    {},
    [
      {
        screens: [
          { ink: 'Ember', file: 'choir_Coral.tif', role: 'colour', mesh },
          { ink: 'Brook', file: 'choir_Lagoon.tif', role: 'colour', limits: { minLineMm: 0.3 } },
        ],
      },
    ],
  ],
  [
    'traps in a PDF',
    () => films('pdf/pdflib-trap-stroke-overprint.pdf'),
    {},
    [{ limits: { trapMm: 0.4, chokeMm: 0.4 } }],
  ],
  [
    'a film in tones',
    () => films('bitmap/tones/grey.png'),
    { limits: { minLineMm: 0.3 } },
    [{ limits: { semiOpaquePercent: 80 } }],
  ],
];

describe('judging again what was measured', () => {
  it.each(jobs)('of %s gives what a new check gives, byte for byte', async (_, sources, first, tickets) => {
    const kept = await checked(sources(), ticketOf(first));
    let changed = 0;
    for (const values of tickets) {
      const fresh = await checked(sources(), ticketOf(values));
      const judged = judgeAgain(kept.facts, { jobName: 'lantern', ticket: ticketOf(values), version });
      if (judged.kind !== 'judged') throw new Error(judged.reasons.join(' '));
      const { timings: _fresh, ...wanted } = fresh.inspection.report;
      const { timings: _judged, ...report } = judged.report;
      expect(JSON.stringify(report)).toBe(JSON.stringify(wanted));
      const inspected = await again(kept, ticketOf(values));
      if (inspected.kind !== 'inspected') throw new Error(inspected.reasons.join(' '));
      expect(inspected.inspection.report.checks).toEqual(wanted.checks);
      expect(hashOf(inspected.inspection.pictures)).toBe(hashOf(fresh.inspection.pictures));
      if (JSON.stringify(wanted.checks) !== JSON.stringify(kept.inspection.report.checks)) changed++;
    }
    // A ticket that changes nothing would prove nothing.
    expect(changed).toBe(tickets.length);
  });

  it.each([
    ['a limit wider than was sought', { limits: { minLineMm: 0.9 } }, 'Fine detail was sought up to 1.6 mm'],
    ['a limit finer than was drawn', { limits: { minDotMm: 0.1 } }, 'are drawn at 16.6 µm a pixel'],
    ['a wider trap than was sought', { limits: { maxTrapMm: 3 } }, 'Overlap was sought up to'],
    ['another base', { screens: [{ ink: '#c9304e', role: 'underbase' }] }, 'Another ink is the base'],
  ])('says what must be measured first for %s', async (_, values, reason) => {
    const { facts } = await checked(drawn('lantern.svg', fineArt), ticketOf({}));
    const judged = judgeAgain(facts, { jobName: 'lantern', ticket: ticketOf(values), version });
    expect(judged.kind === 'notMeasured' && judged.reasons.join(' ')).toContain(reason);
  });

  it('takes no facts of another build, and none that are damaged', async () => {
    const { packedFacts } = await checked(drawn('lantern.svg', fineArt), ticketOf({}));
    expect(unpackFacts(packedFacts, 'another build')).toBeNull();
    expect(unpackFacts(packedFacts.subarray(0, packedFacts.length / 2), program)).toBeNull();
    expect(unpackFacts(Buffer.from('nothing of the kind'), program)).toBeNull();
  });
});
