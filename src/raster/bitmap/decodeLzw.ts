import { DamagedPixels } from './damagedPixels.ts';

const clearCode = 256;
const endCode = 257;
const tableSize = 4096;

/**
 * Decodes LZW as TIFF 6.0, section 13, has it: codes of 9 to 12 bits, highest bit first, the width growing one code
 * early. Fills `target`; fewer bytes than that is an error.
 */
export function decodeLzw(bytes: Uint8Array, target: Uint8Array): void {
  const prefix = new Uint16Array(tableSize);
  const suffix = new Uint8Array(tableSize);
  const length = new Uint16Array(tableSize);
  for (let i = 0; i < 256; i++) {
    suffix[i] = i;
    length[i] = 1;
  }
  const end = target.length;
  let next = 258;
  let width = 9;
  let previous = -1;
  let held = 0;
  let heldBits = 0;
  let at = 0;
  let written = 0;
  while (written < end) {
    while (heldBits < width) {
      if (at >= bytes.length) throw new DamagedPixels('its packed pixels end too early', true);
      held = ((held << 8) | bytes[at++]) & 0xffffff;
      heldBits += 8;
    }
    const code = (held >>> (heldBits - width)) & ((1 << width) - 1);
    heldBits -= width;
    if (code === endCode) break;
    if (code === clearCode) {
      next = 258;
      width = 9;
      previous = -1;
      continue;
    }
    if (previous < 0) {
      if (code > 255) throw new DamagedPixels('its packed pixels make no sense');
      target[written++] = code;
      previous = code;
      continue;
    }
    if (code > next || (code === next && next >= tableSize)) throw new DamagedPixels('its packed pixels make no sense');
    const known = code < next;
    let source = known ? code : previous;
    const size = length[source];
    let place = written + size - 1;
    written += size;
    while (source > 255) {
      if (place < end) target[place] = suffix[source];
      place--;
      source = prefix[source];
    }
    if (place < end) target[place] = source;
    if (!known) {
      if (written < end) target[written] = source;
      written++;
    }
    if (next < tableSize) {
      prefix[next] = previous;
      suffix[next] = source;
      length[next] = length[previous] + 1;
      next++;
      if (next + 1 >= 1 << width && width < 12) width++;
    }
    previous = code;
  }
  if (written < end) throw new DamagedPixels('its packed pixels end too early', true);
}
