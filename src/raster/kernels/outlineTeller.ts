import type { FacedOutline, Stretch, StripReadings } from '../facedOutline.ts';

/** Numbers the kernels tell of an outline, and of each of its stretches. */
export const headerNumbers = 13;
const stretchNumbers = 9;

/** Takes over what the kernels tell of one outline after another. */
export class OutlineTeller {
  private readonly strips = new CopiedStrips();

  /** @param numbers the kernels' memory, @param header where in it the outline's numbers begin. */
  tell(numbers: Float64Array, header: number): FacedOutline {
    const [samples, stripCount, closed, enclosedMm2, stretchCount, heldSamples, stretches] = numbers.subarray(
      header,
      header + 7,
    );
    return {
      closed: closed === 1,
      stretches: stretchesAt(numbers, stretches / 8, stretchCount),
      facedShare: heldSamples / samples,
      enclosedMm2,
      strips: stripCount === 0 ? null : this.strips.copied(numbers, header),
    };
  }
}

function stretchesAt(numbers: Float64Array, at: number, count: number): Stretch[] {
  const stretches: Stretch[] = [];
  for (let k = 0; k < count; k++) {
    const first = at + stretchNumbers * k;
    stretches.push({
      overlapMm: numbers[first],
      lengthMm: numbers[first + 1],
      xMm: numbers[first + 2],
      yMm: numbers[first + 3],
      leftMm: numbers[first + 4],
      topMm: numbers[first + 5],
      rightMm: numbers[first + 6],
      bottomMm: numbers[first + 7],
      run: numbers[first + 8],
    });
  }
  return stretches;
}

class CopiedStrips implements StripReadings {
  length = 0;
  closed = false;
  xMm = new Float64Array(0);
  yMm = new Float64Array(0);
  normalX = new Float64Array(0);
  normalY = new Float64Array(0);
  stepMm = new Float64Array(0);
  stripMm = new Float64Array(0);

  /** Takes over what the kernel found. */
  copied(numbers: Float64Array, header: number): StripReadings {
    this.length = numbers[header];
    this.closed = numbers[header + 2] === 1;
    this.reserve(this.length);
    const [x, y, normalX, normalY, step, strip] = numbers.subarray(header + 7, header + 13).map((at) => at / 8);
    for (let s = 0; s < this.length; s++) {
      this.xMm[s] = numbers[x + 2 * s];
      this.yMm[s] = numbers[y + 2 * s];
      this.normalX[s] = numbers[normalX + s];
      this.normalY[s] = numbers[normalY + s];
      this.stepMm[s] = numbers[step + s];
      this.stripMm[s] = numbers[strip + s];
    }
    return this;
  }

  private reserve(length: number): void {
    if (this.xMm.length >= length) return;
    const room = 2 * length;
    this.xMm = new Float64Array(room);
    this.yMm = new Float64Array(room);
    this.normalX = new Float64Array(room);
    this.normalY = new Float64Array(room);
    this.stepMm = new Float64Array(room);
    this.stripMm = new Float64Array(room);
  }
}
