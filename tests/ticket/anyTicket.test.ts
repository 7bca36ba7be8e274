import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { resolveTicket } from '../../src/ticket/resolveTicket.ts';
import { WrongTicketError } from '../../src/ticket/ticket.ts';

/** Accepts the text, or refuses it as a wrong ticket with at least one problem, each with something expected and received. */
function isSettled(text: string): boolean {
  try {
    resolveTicket({ ticket: { fileName: 'job.yaml', text }, shop: { fileName: 'shop.yaml', text } });
    return true;
  } catch (error) {
    if (!(error instanceof WrongTicketError)) throw error;
    return (
      error.problems.length > 0 && error.problems.every(({ expected, received }) => expected !== '' && received !== '')
    );
  }
}

const scalar = fc.oneof(
  fc.integer({ min: -10, max: 500 }),
  fc.double(),
  fc.boolean(),
  fc.constant(null),
  fc.constantFrom('Coral', 'underbase', '#1b2a41', 'navy', 'inArt', 'plain', ''),
);
const key = fc.constantFrom(
  'job',
  'garment',
  'colour',
  'press',
  'heads',
  'platenMm',
  'screens',
  'ink',
  'role',
  'mesh',
  'name',
);
const meshKey = fc.constantFrom(
  'threadsPerCm',
  'threadsPerInch',
  'threadUm',
  'openingUm',
  'limits',
  'trapMm',
  'meshes',
  'x',
);
const { value } = fc.letrec((tie) => ({
  value: fc.oneof({ maxDepth: 4 }, scalar, tie('list'), tie('group')),
  list: fc.array(tie('value'), { maxLength: 3 }),
  group: fc.dictionary(fc.oneof(key, meshKey), tie('value'), { maxKeys: 5 }),
}));

describe('any ticket', () => {
  it('of any shape is used or refused with reasons', () => {
    fc.assert(
      fc.property(value, (ticket) => isSettled(JSON.stringify(ticket) ?? '')),
      { numRuns: 400, seed: 7 },
    );
  });

  it('of any text is used or refused with reasons', () => {
    fc.assert(
      fc.property(fc.string({ unit: fc.constantFrom(...' \n:-[]{}&*!|>"\'#%@`,?abc12\t') }), (text) => isSettled(text)),
      { numRuns: 600, seed: 7 },
    );
  });

  it('of a frame with any numbers has limits of more than nothing', () => {
    const numbers = fc.record({
      threadsPerCm: fc.double({ min: 4, max: 250 }),
      threadUm: fc.double({ min: 10, max: 600 }),
    });
    fc.assert(
      fc.property(numbers, (mesh) => {
        const text = JSON.stringify({ screens: [{ ink: 'A', mesh }] });
        const fits = mesh.threadUm < 10_000 / mesh.threadsPerCm;
        if (!fits) {
          expect(() => resolveTicket({ ticket: { fileName: 'a', text } })).toThrow(WrongTicketError);
          return;
        }
        const { limits } = resolveTicket({ ticket: { fileName: 'a', text } }).screens[0];
        expect(limits.minLineMm.value).toBeGreaterThan(mesh.threadUm / 1000);
        expect(limits.minGapMm.value).toBeGreaterThan(limits.minLineMm.value);
        expect(limits.minIslandMm.value).toBeGreaterThanOrEqual(limits.minDotMm.value);
      }),
      { numRuns: 300, seed: 7 },
    );
  });
});
