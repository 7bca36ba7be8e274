import type { ChannelRule } from './bitmapRecipe.ts';

/**
 * Tones of one ink, 0 = clear and 255 = opaque, from the samples of some rows. Where the picture is see-through the
 * film is clear.
 */
export function inkTone(
  planes: readonly Uint8Array[],
  rule: Extract<ChannelRule, { kind: 'tones' }>,
  channel: number,
): Uint8Array {
  const { sample, invert } = rule.channels[channel];
  const plane = planes[sample];
  const tones = new Uint8Array(plane.length);
  const flip = invert ? 255 : 0;
  if (rule.alpha === null) {
    for (let i = 0; i < tones.length; i++) tones[i] = plane[i] ^ flip;
    return tones;
  }
  const alpha = planes[rule.alpha.sample];
  const premultiplied = rule.alpha.premultiplied;
  for (let i = 0; i < tones.length; i++) {
    const ink = plane[i] ^ flip;
    if (premultiplied) tones[i] = Math.max(0, invert ? alpha[i] - plane[i] : plane[i]);
    else tones[i] = Math.round((ink * alpha[i]) / 255);
  }
  return tones;
}
