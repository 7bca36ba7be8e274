import { describe, expect, it } from 'vitest';
import { orFinerMesh } from '../../src/checks/finerMesh.ts';
import { finestLineMm } from '../../src/mesh/detailRules.ts';
import { resolveTicket } from '../../src/ticket/resolveTicket.ts';

const ticketOf = (text: string, shop?: string) =>
  resolveTicket({
    ticket: { fileName: 'ticket.yaml', text },
    shop: shop === undefined ? undefined : { fileName: 'shop.yaml', text: shop },
  });
const coral = 'screens: [{ ink: Coral, mesh: { threadsPerCm: 43, threadUm: 80 } }]';

describe('the way out by mesh', () => {
  it('names the coarsest usual mesh that holds the line', () => {
    // Opening and two threads are pitch and thread: 77-55 needs 129.9 + 55 = 185 µm, 90-48 needs 111.1 + 48 = 159 µm.
    expect(orFinerMesh(ticketOf(coral), 'Coral', 0.17, finestLineMm)).toBe(
      ', or print Coral through 90/cm, 48 µm (needs 0.16 mm)',
    );
    expect(orFinerMesh(ticketOf(coral), 'Coral', 0.19, finestLineMm)).toBe(
      ', or print Coral through 77/cm, 55 µm (needs 0.18 mm)',
    );
  });

  it('keeps to the meshes the shop owns', () => {
    const shop =
      'meshes: [{ name: fine, threadsPerCm: 120, threadUm: 34 }, { name: base, threadsPerCm: 43, threadUm: 80 }]';
    // 120-34 needs 83.3 + 34 = 117 µm.
    expect(orFinerMesh(ticketOf(coral, shop), 'Coral', 0.17, finestLineMm)).toBe(
      ', or print Coral through 120/cm, 34 µm (needs 0.12 mm)',
    );
    expect(orFinerMesh(ticketOf(coral, shop), 'Coral', 0.1, finestLineMm)).toBe(
      '; none of your meshes holds it as it is',
    );
  });

  it('speaks of no finer mesh where no mesh set the limit', () => {
    expect(orFinerMesh(ticketOf('job: Choir'), 'Coral', 0.17, finestLineMm)).toBe(
      '; give Coral’s mesh on the ticket for a limit of its own',
    );
    expect(orFinerMesh(ticketOf(coral), 'Coral', 0.01, finestLineMm)).toBe('; no usual mesh holds it as it is');
  });
});
