import type { FontSubset, FontWeight } from '../assets/loadFonts.ts';
import type { Picture } from '../paintLayers.ts';
import { Face } from './face.ts';
import { PdfFile, pdfNumber, pdfText, type Reference } from './pdfFile.ts';
import { opacityName, Sheet } from './sheet.ts';

export const pageWidth = 595.28;
export const pageHeight = 841.89;

interface Place {
  readonly name: string;
  readonly sheet: number;
  readonly y: number;
}

/** An A4 document in the making: its sheets, and the type, pictures and places they name. */
export class Paper {
  private readonly sheets: Sheet[] = [new Sheet()];
  private current = 0;
  private readonly faces = new Map<string, Face>();
  private readonly pictures = new Map<Picture, string>();
  private readonly opacities = new Set<number>();
  private readonly places: Place[] = [];
  private readonly headings: Place[] = [];

  /** The sheet that is drawn on. */
  get sheet(): Sheet {
    return this.sheets[this.current];
  }

  get sheetCount(): number {
    return this.sheets.length;
  }

  addSheet(): void {
    this.current = this.sheets.push(new Sheet()) - 1;
  }

  turnTo(sheet: number): void {
    this.current = sheet;
  }

  /** A bundled face; read when it is first asked for. */
  face(subset: FontSubset, weight: FontWeight): Face {
    const key = `${subset}-${weight}`;
    const face = this.faces.get(key) ?? new Face(`F${this.faces.size + 1}`, subset, weight);
    this.faces.set(key, face);
    return face;
  }

  /** Draws a picture; its packed pixels go into the file as they are, once however often it is drawn. */
  drawPicture(picture: Picture, x: number, y: number, width: number, height: number): void {
    const name = this.pictures.get(picture) ?? `P${this.pictures.size + 1}`;
    this.pictures.set(picture, name);
    this.sheet.picture(name, x, y, width, height);
  }

  drawPath(...parts: Parameters<Sheet['path']>): void {
    const { opacity } = parts[1];
    if (opacity !== undefined) this.opacities.add(opacity);
    this.sheet.path(...parts);
  }

  /** Names a place on the sheet for links to lead to. */
  namePlace(name: string, y: number): void {
    this.places.push({ name, sheet: this.current, y });
  }

  /** Puts a place on the list of parts that readers show beside the page. */
  listHeading(name: string, y: number): void {
    this.headings.push({ name, sheet: this.current, y });
  }

  /** The file. `about` is what stands in its document information. */
  async finish(about: Readonly<Record<'Title' | 'Producer' | 'Creator', string>>, date: Date): Promise<Uint8Array> {
    const file = new PdfFile();
    const tree = file.reserve();
    const resources = file.add(this.resources(file));
    const pages = this.sheets.map(() => file.reserve());
    for (const [index, sheet] of this.sheets.entries()) {
      const content = file.addPacked('', sheet.content(pageHeight));
      const links = sheet.links.map((link) => file.add(linkBody(link)));
      file.put(
        pages[index],
        `<< /Type /Page /Parent ${tree} /Resources ${resources} /Contents ${content}` +
          `${links.length === 0 ? '' : ` /Annots [${links.join(' ')}]`} >>`,
      );
    }
    const box = `[0 0 ${pageWidth} ${pageHeight}]`;
    file.put(tree, `<< /Type /Pages /Kids [${pages.join(' ')}] /Count ${pages.length} /MediaBox ${box} >>`);
    const root = file.add(
      `<< /Type /Catalog /Pages ${tree} /Lang (en) /ViewerPreferences << /DisplayDocTitle true >> ` +
        `/Names << /Dests << /Names [${this.placeNames(pages).join(' ')}] >> >>${this.outline(file, pages)} >>`,
    );
    const entries = Object.entries(about).map(([key, value]) => `/${key} ${pdfText(value)}`);
    const info = file.add(`<< ${entries.join(' ')} /CreationDate ${pdfText(dateWords(date))} >>`);
    return file.finish(root, info);
  }

  private resources(file: PdfFile): string {
    const fonts = [...this.faces.values()]
      .filter(({ isUsed }) => isUsed)
      .map((face, index) => `/${face.name} ${face.embed(file, index)}`);
    const pictures = [...this.pictures].map(([picture, name]) => `/${name} ${addPicture(file, picture)}`);
    const states = [...this.opacities].map(
      (opacity) => `/${opacityName(opacity)} << /ca ${pdfNumber(opacity)} /CA ${pdfNumber(opacity)} >>`,
    );
    const group = (key: string, items: readonly string[]) =>
      items.length === 0 ? '' : `/${key} << ${items.join(' ')} >> `;
    return `<< ${group('Font', fonts)}${group('XObject', pictures)}${group('ExtGState', states)}>>`;
  }

  private placeNames(pages: readonly Reference[]): string[] {
    return [...this.places]
      .sort((a, b) => (a.name < b.name ? -1 : a.name > b.name ? 1 : 0))
      .map((place) => `${pdfText(place.name)} ${target(place, pages)}`);
  }

  private outline(file: PdfFile, pages: readonly Reference[]): string {
    if (this.headings.length === 0) return '';
    const list = file.reserve();
    const items = this.headings.map(() => file.reserve());
    this.headings.forEach((heading, index) => {
      const before = index === 0 ? '' : ` /Prev ${items[index - 1]}`;
      const after = index + 1 === items.length ? '' : ` /Next ${items[index + 1]}`;
      file.put(
        items[index],
        `<< /Title ${pdfText(heading.name)} /Parent ${list}${before}${after} /Dest ${target(heading, pages)} >>`,
      );
    });
    file.put(list, `<< /Type /Outlines /First ${items[0]} /Last ${items.at(-1)} /Count ${items.length} >>`);
    return ` /Outlines ${list}`;
  }
}

function target({ sheet, y }: Place, pages: readonly Reference[]): string {
  return `[${pages[sheet]} /XYZ null ${pdfNumber(pageHeight - y)} null]`;
}

function linkBody({ x, y, width, height, goTo }: Sheet['links'][number]): string {
  const corners = [x, pageHeight - y - height, x + width, pageHeight - y].map(pdfNumber).join(' ');
  return `<< /Type /Annot /Subtype /Link /Rect [${corners}] /Border [0 0 0] /Dest ${pdfText(goTo)} >>`;
}

/** Rows as a PNG has them, each with its filter byte (ISO 32000-1, 7.4.4.4). */
function addPicture(file: PdfFile, { pixels }: Picture): Reference {
  const { widthPx, heightPx, palette, stream } = pixels;
  const colours =
    palette === null
      ? '/DeviceRGB'
      : `[/Indexed /DeviceRGB ${palette.length / 3 - 1} <${Buffer.from(palette).toString('hex')}>]`;
  const rows = `/Predictor 15 /Colors ${palette === null ? 3 : 1} /BitsPerComponent 8 /Columns ${widthPx}`;
  return file.addStream(
    `/Type /XObject /Subtype /Image /Width ${widthPx} /Height ${heightPx} /BitsPerComponent 8 ` +
      `/ColorSpace ${colours} /Filter /FlateDecode /DecodeParms << ${rows} >>`,
    stream,
  );
}

function dateWords(date: Date): string {
  return `D:${date.toISOString().slice(0, 19).replace(/\D/g, '')}Z`;
}
