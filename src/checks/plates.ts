import type { Ask, PlateFacts } from './ask.ts';

export function plateById(ask: Ask, id: string): PlateFacts {
  const plate = ask.plates.find((candidate) => candidate.id === id);
  if (plate === undefined) throw new Error(`There is no plate ${id}.`);
  return plate;
}
