import type { ByteSource } from '../artwork/byteSource.ts';
import { isJpeg, isPdf, isPng, isPsd, isSvg, isTiff, isWebp } from '../readers/firstBytes.ts';
import type { Crew } from './crew.ts';
import type { EngineName } from './warmEngine.ts';

const headBytes = 4096;
const bitmaps = [isTiff, isPng, isJpeg, isWebp, isPsd];

/**
 * Lets every hand of a crew load what will draw these files while they are read. What goes wrong here is left to be
 * found, and told, where it is read and drawn.
 */
export async function warmUp(crew: Crew, sources: readonly ByteSource[]): Promise<void> {
  try {
    const engines = new Set<EngineName>();
    for (const source of sources) {
      const engine = engineFor(await source.read(0, headBytes));
      if (engine !== null) engines.add(engine);
    }
    const work = [...engines].flatMap((engine) =>
      Array.from({ length: crew.hands }, () => crew.do('warmEngine', { engine })),
    );
    await Promise.all(work);
  } catch {}
}

function engineFor(head: Uint8Array): EngineName | null {
  if (bitmaps.some((is) => is(head))) return 'bitmap';
  if (isPdf(head)) return 'pdf';
  return isSvg(head) ? 'svg' : null;
}
