const [lightestPercent, darkestPercent] = [10, 90];
const stepPercent = 10;

/**
 * The tones a halftone is looked at in: in steps from the lightest to the darkest it has, as far as they lie between 10
 * and 90 %. Lighter and darker ones hold too little ink, or too little clear, for a beat to be seen in.
 */
export function tonesInUse(minPercent: number | null, maxPercent: number | null): readonly number[] {
  const from = clamp(minPercent ?? lightestPercent);
  const to = Math.max(from, clamp(maxPercent ?? darkestPercent));
  const count = Math.ceil((to - from) / stepPercent - 1e-9);
  return Array.from({ length: count + 1 }, (_, index) => (index === count ? to : from + index * stepPercent));
}

function clamp(percent: number): number {
  return Math.min(darkestPercent, Math.max(lightestPercent, percent));
}
