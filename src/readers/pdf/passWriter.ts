import type { PDFDict } from '@cantoo/pdf-lib';
import { grownBox } from '../../geometry/box.ts';
import { type Matrix, multiplied, stretch } from '../../geometry/matrix.ts';
import type { PathRange } from '../../geometry/pathStore.ts';
import { strokeOutline } from '../../geometry/strokeOutline.ts';
import type { PixelGrid } from '../../raster/pixelGrid.ts';
import { canInk, speaksOf } from './channels.ts';
import { plainComposite } from './composites.ts';
import { ContentBytes, written } from './contentBytes.ts';
import type { PageContext } from './pageContext.ts';
import { type Paint, tintOf } from './paint.ts';
import { isUpright, writeBrokenPath, writePath, writeSnappedBox } from './passPaths.ts';
import { meansFor } from './passPlan.ts';
import { PassResources } from './passResources.ts';
import { writeTextClip, writeTextLine } from './passText.ts';
import type {
  Clip,
  Composite,
  GroupItem,
  ImageItem,
  PathItem,
  SceneItem,
  ShadingItem,
  TextItem,
  TileItem,
} from './scene.ts';

/** Strokes thinner than this are drawn this wide, so that none is lost or broken up; their true width is on record. */
const thinnestStrokePx = 1;

/** Where copies of a patch mesh go below the mesh itself. */
const patchCopiesPx = [
  [0.5, 0],
  [0, 0.5],
  [-0.5, 0],
  [0, -0.5],
] as const;

/** Chord error of the outlines of strokes with an oval pen. */
const outlineTolerancePx = 0.05;

/**
 * One page on which up to three inks stand in red, green and blue. One unit is one pixel of the grid, so that what is
 * drawn does not depend on any scaling by the renderer.
 */
export function writePass(
  context: PageContext,
  items: readonly SceneItem[],
  keys: readonly string[],
  grid: PixelGrid,
): Uint8Array {
  // A single ink stands in all three, so that it can be drawn as grey.
  const channels = keys.length === 1 ? [keys[0], keys[0], keys[0]] : keys;
  const resources = new PassResources(context, channels, grid);
  const writer = new PassWriter(context, resources, channels, grid, { inGroup: false, inTile: false });
  // Blend modes of the renderer act on what was painted, not on bare paper, so paper is painted first.
  writer.out.text(`1 1 1 rg 0 0 ${grid.widthPx} ${grid.heightPx} re f 0 g\n`);
  const content = writer.write(items);
  return resources.finish(content);
}

interface Inside {
  readonly inGroup: boolean;
  readonly inTile: boolean;
}

/** Writes the items of one content stream. */
export class PassWriter {
  readonly context: PageContext;
  readonly resources: PassResources;
  readonly channels: readonly string[];
  readonly grid: PixelGrid;
  readonly out = new ContentBytes();
  private readonly inside: Inside;
  private clips: Clip[] = [];
  /** Colours and graphics states as they stand at each level of `q`. */
  private levels: { fill: string; stroke: string; state: string; pen: string }[] = [
    { fill: '', stroke: '', state: '', pen: '' },
  ];

  constructor(
    context: PageContext,
    resources: PassResources,
    channels: readonly string[],
    grid: PixelGrid,
    inside: Inside,
  ) {
    this.context = context;
    this.resources = resources;
    this.channels = channels;
    this.grid = grid;
    this.inside = inside;
  }

  write(items: readonly SceneItem[]): Uint8Array {
    for (const item of items) this.writeItem(item);
    this.enterClips([]);
    return this.out.bytes();
  }

  private writeItem(item: SceneItem): void {
    switch (item.type) {
      case 'fill':
      case 'stroke':
        this.writePathItem(item);
        return;
      case 'image':
        this.writeImage(item);
        return;
      case 'shading':
        this.writeShading(item);
        return;
      case 'text':
        this.writeText(item);
        return;
      case 'group':
        this.writeGroup(item);
        return;
      case 'tiles':
        this.writeTiles(item);
        return;
    }
  }

  /** Whether positions on this stream are final, so that edges may be put on pixel edges. */
  get snaps(): boolean {
    return !this.inside.inTile;
  }

  private writePathItem(item: PathItem): void {
    this.paintMixed(item.paint, item.composite, (values, composite) => {
      const margin =
        item.pen && item.pen.join === 0 ? item.pen.miterLimit * stretch(item.pen.matrix).max * item.pen.width : 0;
      this.enterClip(item.clip, grownBox(item.boxMm, margin));
      this.useComposite(composite);
      if (item.type === 'fill') {
        this.useFill(values);
        this.fillRange(item.path, item.evenOdd);
      } else this.strokeItem(item, values);
    });
  }

  private fillRange(path: PathRange, evenOdd: boolean): void {
    const { store } = this.context;
    const rectangle = store.rectangleOf(path);
    if (rectangle && this.snaps) writeSnappedBox(this.out, rectangle, this.grid);
    else if (rectangle) writeBrokenPath(this.out, store, path, this.grid);
    else writePath(this.out, store, path, this.grid);
    this.out.text(evenOdd ? 'f*\n' : 'f\n');
  }

  private strokeItem(item: PathItem, values: readonly number[]): void {
    const pen = item.pen!;
    const { store } = this.context;
    const { min, max } = stretch(pen.matrix);
    const square = this.grid.pitchXMm === this.grid.pitchYMm;
    const widthPx = (pen.width * max) / this.grid.pitchXMm;
    const even = max - min <= 1e-4 * max;
    if (pen.width > 0 && !(even && square)) {
      this.useFill(values);
      const tolerance = outlineTolerancePx * Math.min(this.grid.pitchXMm, this.grid.pitchYMm);
      const outline = strokeOutline(store, item.path, pen, tolerance, store);
      if (outline.coordEnd > outline.coordStart) {
        writeBrokenPath(this.out, store, outline, this.grid);
        this.out.text('f\n');
      }
      store.release(outline);
      return;
    }
    this.useStroke(values);
    this.usePen(Math.max(thinnestStrokePx, widthPx), item, max / this.grid.pitchXMm);
    writePath(this.out, store, item.path, this.grid);
    this.out.text('S\n');
  }

  private usePen(widthPx: number, item: PathItem, scale: number): void {
    const pen = item.pen!;
    const dash = pen.dash.map((v) => v * scale);
    const text = `${written([widthPx])} w ${pen.cap} J ${pen.join} j ${written([Math.max(1, pen.miterLimit)])} M [${written(dash)}] ${written([pen.dashPhase * scale])} d\n`;
    const level = this.levels[this.levels.length - 1];
    if (level.pen === text) return;
    level.pen = text;
    this.out.text(text);
  }

  private writeText(item: TextItem): void {
    for (const stroking of [false, true]) {
      const paints = new Set<Paint>();
      for (const show of item.line.shows) {
        const paint = stroking ? show.strokePaint : show.fillPaint;
        if (paint) paints.add(paint);
      }
      // Strings that meet the page alike are written together; the others keep their place unseen.
      const plans = new Map<string, { composite: Composite; colours: Map<Paint, readonly number[]> }>();
      for (const paint of paints) {
        this.paintMixed(paint, item.composite, (values, composite) => {
          let plan = plans.get(composite.blendMode);
          if (!plan) {
            plan = { composite, colours: new Map() };
            plans.set(composite.blendMode, plan);
          }
          plan.colours.set(paint, values);
        });
      }
      for (const { composite, colours } of plans.values()) {
        this.enterClip(item.clip, grownBox(item.boxMm, item.boxMm.heightMm + item.boxMm.widthMm / 2));
        this.useComposite(composite);
        writeTextLine(this, item.line, stroking, colours);
        this.forgetPen();
      }
    }
  }

  private writeImage(item: ImageItem): void {
    const { image } = item;
    const px = snappedMatrix(multiplied(toPixels(this.grid), item.matrix), this.snaps);
    if (item.paint) {
      this.paintMixed(item.paint, item.composite, (values, composite) => {
        this.enterClip(item.clip, item.boxMm);
        this.useComposite(composite);
        this.useFill(values);
        this.drawObject(px, this.resources.image(image));
      });
      return;
    }
    const space = image.space!;
    if (item.leavesOthers && !this.channels.some((key) => speaksOf(space, key))) return;
    this.enterClip(item.clip, item.boxMm);
    this.useComposite(item.composite);
    if (!image.hasMask && item.composite === plainComposite && !this.channels.some((key) => canInk(space, key))) {
      this.useFill([1, 1, 1]);
      this.out.text(`q ${written(px)} cm 0 0 m .5 0 l 1 0 l 1 1 l 0 1 l h f Q\n`);
      return;
    }
    this.drawObject(px, this.resources.image(image));
  }

  private drawObject(matrix: Matrix, name: string): void {
    this.out.text(`q ${written(matrix)} cm /${name} Do Q\n`);
  }

  private writeShading(item: ShadingItem): void {
    const { space } = item.shading;
    if (item.leavesOthers && !this.channels.some((key) => speaksOf(space, key))) return;
    this.enterClip(item.clip, null);
    this.useComposite(item.composite);
    const matrix = multiplied(toPixels(this.grid), item.matrix);
    const name = this.resources.shading(item.shading);
    const isPatchMesh = (this.context.values.number(item.shading.dict, 'ShadingType') ?? 0) >= 6;
    if (isPatchMesh && item.composite === plainComposite) {
      // Patches are drawn cell by cell with pinholes at the corners; copies half a pixel away fill them.
      for (const [dx, dy] of patchCopiesPx) {
        this.out.text(`q ${written(multiplied([1, 0, 0, 1, dx, dy], matrix))} cm /${name} sh Q\n`);
      }
    }
    this.out.text(`q ${written(matrix)} cm /${name} sh Q\n`);
  }

  private writeGroup(item: GroupItem): void {
    const inner = new PassWriter(this.context, this.resources, this.channels, this.grid, {
      ...this.inside,
      inGroup: true,
    });
    const content = inner.write(item.items);
    if (content.length === 0) return;
    const entries = `/Group<</S/Transparency/CS/DeviceRGB/I ${item.isolated}/K ${item.knockout}>>`;
    this.enterClip(item.clip, null);
    this.useComposite(item.composite);
    this.out.text(`/${this.resources.form(entries, content)} Do\n`);
  }

  private writeTiles(item: TileItem): void {
    const inner = new PassWriter(this.context, this.resources, this.channels, this.grid, {
      ...this.inside,
      inTile: true,
    });
    const content = inner.write(item.items);
    if (content.length === 0) return;
    const name = this.resources.form('', content);
    this.enterClip(item.clip, null);
    this.useComposite(plainComposite);
    for (let k = 0; k < item.offsetsMm.length; k += 2) {
      this.out.text('q 1 0 0 1 ');
      this.out.number(item.offsetsMm[k] / this.grid.pitchXMm);
      this.out.number(-item.offsetsMm[k + 1] / this.grid.pitchYMm);
      this.out.text(`cm /${name} Do Q\n`);
    }
  }

  /**
   * Calls `draw` with the values of red, green and blue (0 = opaque) and the way to lay them on: not at all where the
   * paint leaves every channel alone, twice where a tint has to replace what lies below in some channels only.
   */
  private paintMixed(
    paint: Paint,
    composite: Composite,
    draw: (values: readonly number[], composite: Composite) => void,
  ): void {
    const tints = this.channels.map((key) => tintOf(paint, key));
    const left = tints.filter((tint) => tint === null).length;
    if (left === tints.length) return;
    const valuesWith = (neutral: number) => padded(tints.map((tint) => (tint === null ? neutral : 1 - tint)));
    if (left === 0) {
      draw(valuesWith(1), composite);
      return;
    }
    const means = meansFor(paint, this.channels, composite, this.inside.inGroup);
    const normal = composite.blendMode === 'Normal';
    if (means === 'multiply') {
      draw(valuesWith(1), normal ? { ...composite, blendMode: 'Multiply' } : composite);
      return;
    }
    if (means === 'whiten') {
      draw(valuesWith(0), normal ? { ...composite, blendMode: 'Screen' } : composite);
      return;
    }
    if (means === 'eraseThenMultiply') {
      draw(padded(tints.map((tint) => (tint === null ? 0 : 1))), { ...composite, blendMode: 'Screen' });
      draw(valuesWith(1), { ...composite, blendMode: 'Multiply' });
      return;
    }
    // The plan keeps such inks apart; what gets here asked for inks the plan was not made for.
    draw(valuesWith(1), composite);
  }

  useFill(values: readonly number[]): void {
    const text = `${written(values)} rg\n`;
    const level = this.levels[this.levels.length - 1];
    if (level.fill === text) return;
    level.fill = text;
    this.out.text(text);
  }

  useStroke(values: readonly number[]): void {
    const text = `${written(values)} RG\n`;
    const level = this.levels[this.levels.length - 1];
    if (level.stroke === text) return;
    level.stroke = text;
    this.out.text(text);
  }

  private useComposite(composite: Composite): void {
    const name = this.resources.graphicsState(composite);
    const level = this.levels[this.levels.length - 1];
    if (level.state === name || (level.state === '' && composite === plainComposite && this.levels.length === 1))
      return;
    level.state = name;
    this.out.text(`/${name} gs\n`);
  }

  private forgetPen(): void {
    this.levels[this.levels.length - 1].pen = '';
  }

  /** Clips to what applies to a box: upright clips that hold the whole box are left out. */
  private enterClip(clip: Clip | null, box: SceneItem['boxMm'] | null): void {
    if (!clip && this.clips.length === 0) return;
    const chain: Clip[] = [];
    for (let c = clip; c; c = c.parent) {
      const r = c.rectangleMm;
      if (r && (holds(r, this.filmBox()) || (box && holds(r, box))) && this.snaps) continue;
      chain.push(c);
    }
    this.enterClips(chain.reverse());
  }

  private filmBox() {
    return { xMm: 0, yMm: 0, widthMm: this.context.widthMm, heightMm: this.context.heightMm };
  }

  private enterClips(chain: readonly Clip[]): void {
    let common = 0;
    while (common < chain.length && chain[common] === this.clips[common]) common++;
    for (let k = this.clips.length; k > common; k--) {
      this.out.text('Q\n');
      this.levels.pop();
    }
    this.clips.length = common;
    for (const clip of chain.slice(common)) {
      this.out.text('q\n');
      this.levels.push({ ...this.levels[this.levels.length - 1] });
      this.clips.push(clip);
      this.writeClip(clip);
    }
  }

  private writeClip(clip: Clip): void {
    if ('lines' in clip.shape) {
      writeTextClip(this, clip.shape.lines);
      return;
    }
    const { store } = this.context;
    if (clip.rectangleMm && this.snaps) writeSnappedBox(this.out, clip.rectangleMm, this.grid);
    else writeBrokenPath(this.out, store, clip.shape.path, this.grid);
    this.out.text(clip.shape.evenOdd ? 'W* n\n' : 'W n\n');
  }

  fontName(font: PDFDict): string {
    return this.resources.font(font);
  }
}

/** From film mm to pixels with y up, the space of the page written. */
export function toPixels(grid: PixelGrid): Matrix {
  return [1 / grid.pitchXMm, 0, 0, -1 / grid.pitchYMm, 0, grid.heightPx];
}

/** An upright picture put on whole pixels: the renderer would otherwise widen it to the next ones outside. */
function snappedMatrix(matrix: Matrix, snaps: boolean): Matrix {
  if (!snaps || !isUpright(matrix)) return matrix;
  const [a, b, c, d, e, f] = matrix;
  const span = (from: number, by: number): [number, number] => {
    const start = Math.round(from);
    const end = Math.round(from + by);
    return [start, end === start ? Math.sign(by) || 1 : end - start];
  };
  if (Math.abs(a) > Math.abs(b)) {
    const [x, width] = span(e, a);
    const [y, height] = span(f, d);
    return [width, 0, 0, height, x, y];
  }
  const [x, width] = span(e, c);
  const [y, height] = span(f, b);
  return [0, height, width, 0, x, y];
}

function holds(outer: SceneItem['boxMm'], inner: SceneItem['boxMm']): boolean {
  const slack = 1e-6;
  return (
    outer.xMm <= inner.xMm + slack &&
    outer.yMm <= inner.yMm + slack &&
    outer.xMm + outer.widthMm >= inner.xMm + inner.widthMm - slack &&
    outer.yMm + outer.heightMm >= inner.yMm + inner.heightMm - slack
  );
}

function padded(values: readonly number[]): readonly number[] {
  return values.length === 3 ? values : [values[0], values[1] ?? 1, values[2] ?? 1];
}
