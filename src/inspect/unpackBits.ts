import { DamagedPixels } from '../raster/bitmap/damagedPixels.ts';
import { readBits } from '../raster/bitmap/readBits.ts';
import type { Crew } from './crew.ts';
import type { TaskTable } from './task.ts';

/** Unpacks a one-bit film. What is damaged is told, not thrown: another thread's errors are of no class here. */
export async function unpackBits(input: TaskTable['unpackBits']['input']): Promise<TaskTable['unpackBits']['output']> {
  try {
    return await readBits(input.bytes, input.recipe, input.invert);
  } catch (error) {
    if (!(error instanceof DamagedPixels)) throw error;
    return { damage: error.message, truncated: error.truncated };
  }
}

/** Has one-bit films unpacked by a crew. */
export function unpackingBy(crew: Crew): typeof readBits {
  return async (bytes, recipe, invert) => {
    const plane = await crew.do('unpackBits', { bytes, recipe, invert });
    if ('damage' in plane) throw new DamagedPixels(plane.damage, plane.truncated);
    return plane;
  };
}
