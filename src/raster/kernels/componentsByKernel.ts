import type { BitPlane } from '../bitPlane.ts';
import { type Component, type ComponentOptions, emptyComponent } from '../component.ts';
import { bandRows, type Kernels, Layout } from './kernelModule.ts';

const numbersPerPart = 11;
const foundRoom = 4096;

/** `visitComponentsPlain`, 64 pixels a step. */
export function visitByKernel(
  kernels: Kernels,
  plane: BitPlane,
  options: ComponentOptions,
  visit: (component: Component) => void,
): void {
  const { widthPx, heightPx, wordsPerRow } = plane;
  const room = widthPx + foundRoom;
  const layout = new Layout(kernels);
  const scratch = layout.take(kernels.componentsScratchBytes(widthPx));
  const found = layout.take(8 * numbersPerPart * room);
  const band = layout.take(4 * bandRows * wordsPerRow);
  const words = new Uint32Array(kernels.memory.buffer, band, bandRows * wordsPerRow);
  const numbers = new Float64Array(kernels.memory.buffer, found, numbersPerPart * room);
  kernels.beginComponents(
    wordsPerRow,
    widthPx,
    heightPx,
    options.inverted ? 1 : 0,
    options.connectivity === 8 ? 1 : 0,
    options.mostColumns ?? widthPx,
    options.mostRows ?? heightPx,
    options.mostAreaPx ?? Infinity,
    options.moments === false ? 0 : 1,
    scratch,
    found,
    room,
  );
  const part = emptyComponent();
  for (let from = 0; from <= heightPx; from += bandRows) {
    const to = Math.min(heightPx + 1, from + bandRows);
    words.set(plane.words.subarray(from * wordsPerRow, Math.min(heightPx, to) * wordsPerRow));
    for (let row = from; row < to; ) {
      row = kernels.joinRuns(row, to, band + 4 * (row - from) * wordsPerRow);
      const count = kernels.foundParts();
      for (let index = 0; index < count; index++) {
        fillComponent(part, numbers, numbersPerPart * index);
        visit(part);
      }
    }
  }
}

function fillComponent(part: Component, numbers: Float64Array, at: number): void {
  part.areaPx = numbers[at];
  part.left = numbers[at + 1];
  part.top = numbers[at + 2];
  part.right = numbers[at + 3];
  part.bottom = numbers[at + 4];
  part.firstColumn = numbers[at + 5];
  part.sumColumn = numbers[at + 6];
  part.sumRow = numbers[at + 7];
  part.sumColumnSquared = numbers[at + 8];
  part.sumRowSquared = numbers[at + 9];
  part.sumProduct = numbers[at + 10];
}
