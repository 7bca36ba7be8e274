import { describe, expect, it } from 'vitest';
import { byteSourceOf } from '../../src/artwork/byteSource.ts';
import type { Crew } from '../../src/inspect/crew.ts';
import { warmUp } from '../../src/inspect/warmUp.ts';

function watched(hands: number, fails = false): { crew: Crew; asked: string[] } {
  const asked: string[] = [];
  const crew: Crew = {
    hands,
    do: async (name, input) => {
      asked.push(`${name} ${JSON.stringify(input)}`);
      if (fails) throw new Error('a thread was lost');
      return null as never;
    },
    dismiss: async () => {},
  };
  return { crew, asked };
}

describe('a crew that waits for the files to be read', () => {
  it('loads in every hand what will draw them, by their first bytes', async () => {
    const { crew, asked } = watched(2);
    const svg = byteSourceOf('misnamed.pdf', new TextEncoder().encode('<svg xmlns="http://www.w3.org/2000/svg"/>'));
    const psd = byteSourceOf('a', Uint8Array.of(0x38, 0x42, 0x50, 0x53, 0, 1, 0, 0));
    const pdf = byteSourceOf('b', new TextEncoder().encode('%PDF-1.7\n'));
    await warmUp(crew, [svg, pdf, psd, pdf]);
    const each = (engine: string) => Array.from({ length: 2 }, () => `warmEngine {"engine":"${engine}"}`);
    expect(asked).toEqual([...each('svg'), ...each('pdf'), ...each('bitmap')]);
  });

  it('leaves alone what it does not know, and trouble to those who read and draw', async () => {
    const { crew, asked } = watched(3);
    await warmUp(crew, [
      byteSourceOf('a.pdf', new TextEncoder().encode('nothing')),
      byteSourceOf('b', new Uint8Array()),
    ]);
    expect(asked).toEqual([]);
    const pdf = byteSourceOf('c', new TextEncoder().encode('%PDF-1.7\n'));
    await warmUp(watched(2, true).crew, [pdf]);
    await warmUp(crew, [{ ...pdf, read: () => Promise.reject(new Error('the disk was taken out')) }]);
    expect(asked).toEqual([]);
  });
});
