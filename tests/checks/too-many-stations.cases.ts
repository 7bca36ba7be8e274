import { askOf } from '../support/askFixture.ts';
import type { CheckCases } from '../support/checkTester.ts';

const five = ['Coral', 'Lagoon', 'Night', 'Sand', 'Sun'];

export const cases: CheckCases = {
  rows: [
    {
      name: 'one station to spare',
      ask: askOf({ inks: five }),
      outcome: 'pass',
      readings: 1,
      tightest: 5,
      at: 'just under',
    },
    {
      name: 'five frames and the flash after the base fill six stations',
      ask: askOf({ inks: five, ticket: { roles: { Coral: 'underbase' } } }),
      outcome: 'pass',
      readings: 1,
      tightest: 6,
      at: 'at',
    },
    {
      name: 'six frames and a flash',
      ask: askOf({ inks: [...five, 'Rain'], ticket: { roles: { Rain: 'underbase' } } }),
      outcome: 'fail',
      readings: 1,
      at: 'just over',
      findings: [
        { code: 'press-too-small', value: 7, inks: [...five, 'Rain'], places: 0, details: ['6 frames and 1 flash'] },
      ],
    },
    {
      name: 'a flash with a cool-down takes two',
      ask: askOf({ inks: five, ticket: { flashStations: 2, roles: { Coral: 'underbase' } } }),
      outcome: 'fail',
      readings: 1,
      findings: [{ code: 'press-too-small', value: 7, places: 0, details: ['5 frames, 1 flash and 1 cool-down'] }],
    },
    {
      name: 'a flash that takes no station',
      ask: askOf({ inks: [...five, 'Rain'], ticket: { flashStations: 0, roles: { Rain: 'underbase' } } }),
      outcome: 'pass',
      readings: 1,
      tightest: 6,
    },
    {
      name: 'inks that are not certain',
      ask: askOf({
        inks: [...five, 'Rain', 'Moss'],
        films: [{ notes: [{ code: 'blend', message: 'There are blends.', affects: 'inks' }] }],
      }),
      outcome: 'fail',
      readings: 1,
      findings: [{ code: 'press-too-small', value: 7, places: 0, details: ['7 frames', 'There are blends.'] }],
    },
    {
      name: 'as many stations as there are, and inks that are not certain',
      ask: askOf({
        inks: [...five, 'Rain'],
        films: [{ notes: [{ code: 'blend', message: 'There are blends.', affects: 'inks' }] }],
      }),
      outcome: 'needsReview',
      readings: 1,
      findings: [{ code: 'in-doubt', value: 6, places: 0, details: ['6 frames', 'There are blends.'] }],
    },
    { name: 'nothing prints', ask: askOf({ inks: [] }), outcome: 'notApplicable', readings: 0, why: /No ink/ },
  ],
};
