import { describe, expect, it } from 'vitest';
import type { BoxMm } from '../../src/geometry/box.ts';
import { BoxTree } from '../../src/geometry/boxTree.ts';
import { seededRandom } from '../support/seededRandom.ts';

function meets(a: BoxMm, b: BoxMm): boolean {
  return (
    a.xMm <= b.xMm + b.widthMm &&
    b.xMm <= a.xMm + a.widthMm &&
    a.yMm <= b.yMm + b.heightMm &&
    b.yMm <= a.yMm + a.heightMm
  );
}

describe('a tree of boxes', () => {
  it.each([0, 1, 7, 8, 9, 65, 500, 3000])('of %i boxes finds the same as a look at each of them', (count) => {
    const random = seededRandom(count + 1);
    const boxes = Array.from({ length: count }, () => ({
      xMm: 400 * random(),
      yMm: 500 * random(),
      widthMm: 60 * random() ** 4,
      heightMm: 60 * random() ** 4,
    }));
    const tree = new BoxTree(boxes);
    for (let k = 0; k < 60; k++) {
      const box = {
        xMm: 420 * random() - 10,
        yMm: 520 * random() - 10,
        widthMm: 40 * random(),
        heightMm: 40 * random(),
      };
      const expected = boxes.flatMap((one, index) => (meets(one, box) ? [index] : []));
      expect(tree.meeting(box)).toEqual(expected);
    }
  });

  it('counts boxes that only touch, and boxes of no size', () => {
    const tree = new BoxTree([
      { xMm: 0, yMm: 0, widthMm: 10, heightMm: 10 },
      { xMm: 20, yMm: 5, widthMm: 0, heightMm: 0 },
    ]);
    expect(tree.meeting({ xMm: 10, yMm: 10, widthMm: 1, heightMm: 1 })).toEqual([0]);
    expect(tree.meeting({ xMm: 15, yMm: 0, widthMm: 10, heightMm: 10 })).toEqual([1]);
  });
});
