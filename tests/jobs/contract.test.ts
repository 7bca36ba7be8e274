import { afterAll, describe } from 'vitest';
import { storeKinds } from '../support/jobStores.ts';
import { arrivals } from './contract/arrivals.ts';
import { customers } from './contract/customers.ts';
import { movesAndEffects } from './contract/movesAndEffects.ts';
import { people } from './contract/people.ts';
import { pruning } from './contract/pruning.ts';
import { queue } from './contract/queue.ts';

// What the job store promises, asked of both databases in the same words.
for (const kind of storeKinds) {
  const isThere = await kind.begin();
  describe.skipIf(!isThere)(kind.name, () => {
    const make = (maxFailures?: number) => kind.make(maxFailures);
    afterAll(() => kind.end());
    describe('arrivals', () => arrivals(make));
    describe('queue', () => queue(make));
    describe('moves and effects', () => movesAndEffects(make));
    describe('people', () => people(make));
    describe('customers', () => customers(make));
    describe('pruning', () => pruning(make));
  });
}
