import { describe, expect, it } from 'vitest';
import { orFinerMesh } from '../../src/checks/finerMesh.ts';
import { finestGapMm, finestLineMm } from '../../src/mesh/detailRules.ts';
import { resolveTicket } from '../../src/ticket/resolveTicket.ts';
import { readingOf } from '../support/askFixture.ts';

function wayOut(text: string, value: number, plusMinus: number, shop?: string, finest = finestLineMm): string {
  const ticket = resolveTicket({
    ticket: { fileName: 'ticket.yaml', text },
    shop: shop === undefined ? undefined : { fileName: 'shop.yaml', text: shop },
  });
  const reading = readingOf(value, 'mm', { plusMinus, inkNames: ['Coral'] });
  return orFinerMesh({ reading, limit: ticket.screenFor('Coral').limits.minLineMm, ticket }, finest);
}

const coral = 'screens: [{ ink: Coral, mesh: { threadsPerCm: 43, threadUm: 80 } }]';
const owned =
  'meshes: [{ name: fine, threadsPerCm: 120, threadUm: 34 }, { name: base, threadsPerCm: 43, threadUm: 80 }]';

describe('the way out by mesh', () => {
  it('names the coarsest usual mesh that holds the line, its error bar taken off', () => {
    // Opening and two threads are pitch and thread: 77-55 needs 129.9 + 55 = 185 µm, 90-48 needs 111.1 + 48 = 159 µm.
    expect(wayOut(coral, 0.17, 0)).toBe(', or print Coral through 90/cm, 48 µm (needs 0.16 mm)');
    expect(wayOut(coral, 0.19, 0)).toBe(', or print Coral through 77/cm, 55 µm (needs 0.18 mm)');
    expect(wayOut(coral, 0.19, 0.01)).toBe(', or print Coral through 90/cm, 48 µm (needs 0.16 mm)');
  });

  it('goes by the rule of the check that asks', () => {
    // A gap needs 0.1 mm more than a line: 77-55 needs 0.285 mm.
    expect(wayOut(coral, 0.29, 0, undefined, (mesh) => finestGapMm(mesh))).toMatch(/77\/cm, 55 µm \(needs 0\.28 mm\)/);
  });

  it('keeps to the meshes the shop owns', () => {
    // 120-34 needs 83.3 + 34 = 117 µm.
    expect(wayOut(coral, 0.17, 0, owned)).toBe(', or print Coral through 120/cm, 34 µm (needs 0.12 mm)');
    expect(wayOut(coral, 0.1, 0, owned)).toBe('; none of your meshes holds 0.10 mm');
  });

  it('names no mesh finer than garments are usually printed through', () => {
    // 150-31 would need 98 µm.
    expect(wayOut(coral, 0.1, 0)).toBe('; no usual mesh up to 120/cm holds 0.10 mm');
  });

  it('speaks of no finer mesh where no mesh set the limit', () => {
    expect(wayOut('job: Choir', 0.17, 0)).toBe(
      ': the floor for garments, which holds while the ticket gives no mesh for Coral',
    );
    const set = 'screens: [{ ink: Coral, mesh: { threadsPerCm: 43, threadUm: 80 }, limits: { minLineMm: 0.6 } }]';
    expect(wayOut(set, 0.17, 0)).toBe(', as your ticket asks whatever the mesh');
    expect(wayOut('job: Choir', 0.17, 0, 'limits: { minLineMm: 0.6 }')).toMatch(/your shop file/);
  });
});
