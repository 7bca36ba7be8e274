import { PDFArray, type PDFDict } from '@cantoo/pdf-lib';
import { multiplied } from '../../geometry/matrix.ts';
import type { PixelGrid } from '../../raster/pixelGrid.ts';
import { passSpace, withFunctions } from './channels.ts';
import { written } from './contentBytes.ts';
import type { PageContext } from './pageContext.ts';
import { toPixels } from './passWriter.ts';
import { asStream } from './pdfValues.ts';
import { PdfWriter } from './pdfWriter.ts';
import type { Composite, ImageFacts, ShadingFacts, SoftMask } from './scene.ts';

const imageKeys = new Set([
  'Width',
  'Height',
  'BitsPerComponent',
  'Filter',
  'DecodeParms',
  'Decode',
  'ImageMask',
  'Mask',
  'SMask',
  'SMaskInData',
]);

/** Fonts, images, shadings and states of the page being written; all its streams share one resource dictionary. */
export class PassResources {
  private readonly context: PageContext;
  private readonly channels: readonly string[];
  private readonly grid: PixelGrid;
  private readonly writer: PdfWriter;
  private readonly resourcesRef: string;
  private readonly lists = { Font: '', XObject: '', Shading: '', ExtGState: '' };
  private readonly fonts = new Map<PDFDict, string>();
  private readonly images = new Map<PDFDict, string>();
  private readonly shadings = new Map<PDFDict, string>();
  private readonly states = new Map<string, string>();
  private readonly composites = new WeakMap<Composite, string>();
  private readonly masks = new Map<SoftMask, string>();
  private count = 0;

  constructor(context: PageContext, channels: readonly string[], grid: PixelGrid) {
    this.context = context;
    this.channels = channels;
    this.grid = grid;
    this.writer = new PdfWriter(context.values);
    this.resourcesRef = this.writer.reserve();
  }

  font(font: PDFDict): string {
    let name = this.fonts.get(font);
    if (!name) {
      name = this.next('F');
      this.fonts.set(font, name);
      this.lists.Font += `/${name} ${this.writer.add(this.writer.copy(font))}`;
    }
    return name;
  }

  image(image: ImageFacts): string {
    let name = this.images.get(image.dict);
    if (!name) {
      name = this.next('I');
      this.images.set(image.dict, name);
      this.lists.XObject += `/${name} ${this.addImage(image)}`;
    }
    return name;
  }

  shading(shading: ShadingFacts): string {
    let name = this.shadings.get(shading.dict);
    if (!name) {
      name = this.next('S');
      this.shadings.set(shading.dict, name);
      const own = new Set(['ColorSpace', 'Background', 'Length', 'AntiAlias']);
      const centred = this.centredFunctions(shading.dict);
      if (centred) own.add('Function');
      const entries = this.writer.entries(shading.dict, (key) => !own.has(key));
      const body = `/ColorSpace ${this.space(shading.space)}${centred}${entries}`;
      const reference = shading.stream
        ? this.writer.addStream(body, shading.stream.getContents())
        : this.writer.add(`<<${body}>>`);
      this.lists.Shading += `/${name} ${reference}`;
    }
    return name;
  }

  form(entries: string, content: Uint8Array): string {
    const name = this.next('X');
    const box = this.boxText();
    const body = `/Type/XObject/Subtype/Form/BBox[${box}]/Resources ${this.resourcesRef}${entries}`;
    this.lists.XObject += `/${name} ${this.writer.addPacked(body, content)}`;
    return name;
  }

  graphicsState(composite: Composite): string {
    const known = this.composites.get(composite);
    if (known) return known;
    const mask = composite.softMask ? this.softMask(composite.softMask) : '/None';
    const body = `<</ca ${written([composite.alpha])}/CA ${written([composite.alpha])}/BM/${composite.blendMode}/SMask ${mask}>>`;
    let name = this.states.get(body);
    if (!name) {
      name = this.next('G');
      this.states.set(body, name);
      this.lists.ExtGState += `/${name} ${this.writer.add(body)}`;
    }
    this.composites.set(composite, name);
    return name;
  }

  /** The page and its file. */
  finish(content: Uint8Array): Uint8Array {
    const { writer } = this;
    const lists = Object.entries(this.lists).map(([key, list]) => `/${key}<<${list}>>`);
    writer.put(this.resourcesRef, `<<${lists.join('')}>>`);
    const contents = writer.addPacked('', content);
    const pages = writer.reserve();
    const box = `0 0 ${this.grid.widthPx} ${this.grid.heightPx}`;
    const page = writer.add(
      `<</Type/Page/Parent ${pages}/MediaBox[${box}]/Contents ${contents}/Resources ${this.resourcesRef}>>`,
    );
    writer.put(pages, `<</Type/Pages/Kids[${page}]/Count 1>>`);
    return writer.finish(writer.add(`<</Type/Catalog/Pages ${pages}>>`));
  }

  /**
   * The renderer draws axial and radial shadings in 256 steps and takes step i, which stands for (i + ½) / 255, at
   * i / 256. The functions are stretched so that each step has the colour of its middle and the last one is reached.
   */
  private centredFunctions(dict: PDFDict): string {
    const { values } = this.context;
    const type = values.number(dict, 'ShadingType');
    const object = values.raw(dict, 'Function');
    if ((type !== 2 && type !== 3) || !object) return '';
    const [from, to] = values.numbersOf(dict, 'Domain') ?? [0, 1];
    const encode = [from + (0.5 / 255) * (to - from), to + (1.5 / 255) * (to - from)];
    const wrap = (copied: string) =>
      `<</FunctionType 3/Domain[${written([from, to])}]/Functions[${copied}]/Bounds[]/Encode[${written(encode)}]>>`;
    const list = values.resolve(object);
    const parts = list instanceof PDFArray ? list.asArray() : [object];
    return `/Function[${parts.map((part) => wrap(this.writer.copy(part))).join('')}]`;
  }

  private addImage(image: ImageFacts): string {
    const { dict } = image;
    let entries = `/Type/XObject/Subtype/Image${this.writer.entries(dict, (key) => imageKeys.has(key))}`;
    // JPEG 2000 may leave it out; the renderer then takes the samples for single bits.
    if (!this.context.values.get(dict, 'BitsPerComponent')) {
      entries += `/BitsPerComponent ${image.bits}`;
    }
    if (image.space) entries += `/ColorSpace ${this.space(image.space)}`;
    return this.writer.addStream(entries, image.inlineData ?? image.stream!.getContents());
  }

  private space(space: NonNullable<ImageFacts['space']>): string {
    const text = passSpace(space, this.channels, this.context.inks);
    return withFunctions(text, (entries, data) => this.writer.addStream(entries, data));
  }

  /** The mask keeps its own colours; only its place is turned into pixels. */
  private softMask(mask: SoftMask): string {
    let reference = this.masks.get(mask);
    if (!reference) {
      const { values } = this.context;
      const group = asStream(values.get(mask.dict, 'G'));
      if (!group) return '/None';
      const inner = this.writer.copy(values.raw(mask.dict, 'G'));
      const matrix = multiplied(toPixels(this.grid), mask.matrix);
      const attributes = this.writer.copy(values.raw(group.dict, 'Group'));
      const form = this.writer.addPacked(
        `/Type/XObject/Subtype/Form/BBox[${this.boxText()}]/Resources<</XObject<</M ${inner}>>>>/Group ${attributes}`,
        Buffer.from(`q ${written(matrix)} cm /M Do Q`, 'latin1'),
      );
      const entries = this.writer.entries(mask.dict, (key) => key === 'S' || key === 'BC' || key === 'TR');
      reference = this.writer.add(`<</Type/Mask${entries}/G ${form}>>`);
      this.masks.set(mask, reference);
    }
    return reference;
  }

  private boxText(): string {
    // Tiles reach beyond the page before they are put in place.
    return `-1000000 -1000000 1000000 1000000`;
  }

  private next(prefix: string): string {
    return `${prefix}${++this.count}`;
  }
}
