import { describe, expect, it } from 'vitest';
import { resolveTicket } from '../../src/ticket/resolveTicket.ts';

const file = (text: string) => ({ fileName: 'ticket.yaml', text });

describe('what a ticket says of halftones', () => {
  it('is read from the frame, the ticket and the shop file, in this order', () => {
    const ticket = resolveTicket({
      ticket: file(`
print: { viewingDistanceMm: 2500 }
limits: { minMeshRatio: 4, softDotPercent: 5 }
screens:
  - { ink: Coral, mesh: { threadsPerCm: 77, threadUm: 55, stretchPercent: 2 }, limits: { lostTonePercent: 1 } }
`),
      shop: { fileName: 'shop.yaml', text: 'limits: { moirePercent: 3, minMeshRatio: 5, minAngleDifferenceDeg: 22 }' },
    });
    expect(ticket.print.viewingDistanceMm).toEqual({ value: 2500, from: 'ticket' });
    const { mesh, limits } = ticket.screenFor('Coral');
    expect(mesh?.value.stretchPercent).toBe(2);
    expect(mesh?.value.squarenessDeg).toBeUndefined();
    expect(limits.minMeshRatio).toMatchObject({ value: 4, unit: 'ratio', from: 'ticket', rule: 'limits.minMeshRatio' });
    expect(limits.lostTonePercent).toMatchObject({
      value: 1,
      from: 'ticket',
      rule: 'screens[0].limits.lostTonePercent',
    });
    expect(limits.moirePercent).toMatchObject({ value: 3, unit: 'percent', from: 'shop' });
    expect(ticket.limits.minAngleDifferenceDeg).toMatchObject({ value: 22, unit: 'deg', from: 'shop' });
    expect(ticket.limits.softDotPercent).toMatchObject({ value: 5, from: 'ticket' });
  });

  it('has defaults that say so', () => {
    const ticket = resolveTicket({});
    expect(ticket.print.viewingDistanceMm).toEqual({ value: 1000, from: 'default' });
    const { limits } = ticket.screenFor('Coral');
    for (const limit of [limits.minMeshRatio, limits.lostTonePercent, limits.moirePercent])
      expect(limit).toMatchObject({ from: 'default', source: 'common practice, no source' });
    expect(limits.moirePercent.rule).toMatch(/estimate/);
  });
});
