import { describe, expect, it } from 'vitest';
import { openAdvice } from '../../src/inspect/openAdvice.ts';

describe('advice on what could not be judged', () => {
  it('tells the customer reasons that lie in the file, and nothing of ticket, mesh and press', () => {
    const reasons = [
      'The ticket does not say what Coral is printed through.',
      'The font of “Midsummer” is not in the file.',
      'Drawn at 40 µm a pixel, coarser than its limits ask.',
    ];
    const { customer, printer } = openAdvice(reasons);
    expect(customer).toBe(
      'We could not settle this: The font of “Midsummer” is not in the file. Please tell us if it is as you want it, or send the original vector file.',
    );
    expect(printer).toContain('The ticket does not say');
    expect(openAdvice(reasons.slice(0, 1)).customer).toMatch(/^We could not settle this from the file alone\. Please/);
  });
});
