import { describe, expect, it } from 'vitest';
import { countStations } from '../../src/ticket/countStations.ts';

describe('countStations', () => {
  it.each([
    [['colour', 'colour'], 1, { inks: 2, flashes: 0, coolDowns: 0, total: 2 }],
    [['underbase', 'colour', 'key'], 0, { inks: 3, flashes: 0, coolDowns: 0, total: 3 }],
    [['underbase', 'colour', 'key'], 1, { inks: 3, flashes: 1, coolDowns: 0, total: 4 }],
    [['underbase', 'colour', 'colour', 'colour', 'colour', 'key'], 2, { inks: 6, flashes: 1, coolDowns: 1, total: 8 }],
    [['underbase'], 2, { inks: 1, flashes: 0, coolDowns: 0, total: 1 }],
    [[], 2, { inks: 0, flashes: 0, coolDowns: 0, total: 0 }],
  ] as const)('%j with %i heads a flash', (roles, flashStations, expected) => {
    expect(countStations(roles, flashStations)).toEqual(expected);
  });
});
