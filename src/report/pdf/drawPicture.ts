import type { Picture } from '../paintLayers.ts';
import type { Typesetter } from './typeset.ts';

/** What the writer asks of an image it has not opened itself. */
interface WriterImage {
  readonly width: number;
  readonly height: number;
  readonly label: string;
  obj: PDFKit.PDFKitReference | null;
  embed(doc: PDFKit.PDFDocument): void;
}

const imagesOf = new WeakMap<PDFKit.PDFDocument, Map<Picture, WriterImage>>();

/** Draws a picture whose packed pixels go into the file as they are, once however often it is drawn. */
export function drawPicture(
  { doc }: Typesetter,
  picture: Picture,
  x: number,
  y: number,
  options: PDFKit.Mixins.ImageOption,
): void {
  const images = imagesOf.get(doc) ?? new Map<Picture, WriterImage>();
  imagesOf.set(doc, images);
  const image = images.get(picture) ?? writerImage(picture, `P${images.size + 1}`);
  images.set(picture, image);
  doc.image(image as unknown as PDFKit.Mixins.ImageSrc, x, y, options);
}

function writerImage({ pixels }: Picture, label: string): WriterImage {
  const { widthPx, heightPx, palette, stream } = pixels;
  return {
    width: widthPx,
    height: heightPx,
    label,
    obj: null,
    embed(doc) {
      this.obj = doc.ref({
        Type: 'XObject',
        Subtype: 'Image',
        Width: widthPx,
        Height: heightPx,
        BitsPerComponent: 8,
        ColorSpace: palette === null ? 'DeviceRGB' : ['Indexed', 'DeviceRGB', palette.length / 3 - 1, palette],
        Filter: 'FlateDecode',
        // ISO 32000-1, 7.4.4.4: rows as a PNG has them, each with its filter byte.
        DecodeParms: { Predictor: 15, Colors: palette === null ? 3 : 1, BitsPerComponent: 8, Columns: widthPx },
      });
      this.obj.end(stream);
    },
  };
}
