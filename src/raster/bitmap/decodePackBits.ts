import { DamagedPixels } from './damagedPixels.ts';

/** Decodes PackBits (TIFF 6.0, section 9) into `target` and returns where reading stopped. */
export function decodePackBits(bytes: Uint8Array, target: Uint8Array, from = 0): number {
  let at = from;
  let written = 0;
  const end = target.length;
  while (written < end) {
    if (at >= bytes.length) throw new DamagedPixels('its packed pixels end too early', true);
    const lead = bytes[at++];
    if (lead < 128) {
      const count = Math.min(lead + 1, end - written);
      if (at + count > bytes.length) throw new DamagedPixels('its packed pixels end too early', true);
      for (let i = 0; i < count; i++) target[written++] = bytes[at + i];
      at += lead + 1;
    } else if (lead > 128) {
      const count = Math.min(257 - lead, end - written);
      target.fill(bytes[at++], written, written + count);
      written += count;
    }
  }
  return at;
}
