import { mmPerInch } from '../../units/lengths.ts';
import type { StatedResolution } from '../bitmap/scaleOf.ts';
import type { Directory } from './directories.ts';
import { tiffTags } from './tags.ts';

/** Tags 282, 283 and 296; unit 2 (inch) is the default, 1 means the numbers only give the pixels' shape. */
export function statedResolution(directory: Directory): StatedResolution | null {
  const x = directory.numbers(tiffTags.xResolution)[0];
  const y = directory.numbers(tiffTags.yResolution)[0];
  const unit = directory.numbers(tiffTags.resolutionUnit)[0] ?? 2;
  if (x === undefined || y === undefined || !Number.isFinite(x) || !Number.isFinite(y) || unit < 2 || unit > 3)
    return null;
  const perInch = unit === 3 ? mmPerInch / 10 : 1;
  return { ppiX: x * perInch, ppiY: y * perInch };
}
