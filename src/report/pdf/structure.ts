import { shownText } from '../words.ts';

/** What a piece of the report is, in the standard structure types of ISO 32000-1, 14.8.4. */
export type StructureTag =
  | 'Document'
  | 'H1'
  | 'H2'
  | 'H3'
  | 'H4'
  | 'P'
  | 'Caption'
  | 'Figure'
  | 'Link'
  | 'L'
  | 'LI'
  | 'Lbl'
  | 'LBody'
  | 'Table'
  | 'TR'
  | 'TH'
  | 'TD';

export interface StructureFacts {
  /** What a figure shows, for those who do not see it. */
  readonly alt?: string;
  /** Where a figure lies: left, top, right and bottom in points from the page's top left corner. */
  readonly bbox?: readonly [number, number, number, number];
  /** Of which cells a table's heading cell is the heading. */
  readonly scope?: 'Column' | 'Row';
}

/**
 * Tells those who have the file read out what each drawn thing is, and in which order it is read: the order in which it
 * is drawn. Everything drawn goes through `content` or `decoration`, as no page may hold anything else.
 */
export class Structure {
  private readonly doc: PDFKit.PDFDocument;
  private readonly open: { readonly tag: StructureTag; readonly element: PDFKit.PDFStructureElement }[] = [];
  private isDecoration = false;

  constructor(doc: PDFKit.PDFDocument) {
    this.doc = doc;
    const element = doc.struct('Document');
    doc.addStructure(element);
    this.open.push({ tag: 'Document', element });
  }

  /** Begins a part of what is open; `end` ends it. */
  begin(tag: StructureTag, { alt, bbox, scope }: StructureFacts = {}): void {
    if (this.isDecoration) return;
    const facts = { alt: alt === undefined ? undefined : shownText(alt), bbox, scope };
    // Its types do not know of the last two.
    const element = this.doc.struct(tag, facts as PDFKit.Mixins.StructureElementOptions);
    this.last.element.add(element);
    this.open.push({ tag, element });
  }

  end(): void {
    if (!this.isDecoration) this.open.pop()!.element.end();
  }

  /** A part, with all that is drawn within. */
  within(tag: StructureTag, draw: () => void, facts?: StructureFacts): void {
    this.begin(tag, facts);
    draw();
    this.end();
  }

  /** What is drawn belongs to the part last begun. */
  content(draw: () => void): void {
    if (this.isDecoration) {
      draw();
      return;
    }
    const { tag, element } = this.last;
    const content = this.doc.markStructureContent(tag);
    draw();
    this.doc.endMarkedContent();
    element.add(content);
  }

  /** What is drawn leads to a place in the file; `place` says where it lies, in points from the page's top left corner. */
  link(
    draw: () => void,
    goTo: string,
    words: string,
    place: readonly [x: number, y: number, w: number, h: number],
  ): void {
    this.begin('Link');
    this.content(draw);
    // A string object is what is written as text, a plain one as a name.
    const facts = this.isDecoration ? {} : { structParent: this.last.element, Contents: new String(shownText(words)) };
    this.doc.goTo(...place, goTo, facts as PDFKit.Mixins.AnnotationOption);
    this.end();
  }

  /** What is drawn says nothing: rules, and whatever stands on every page or is said elsewhere. */
  decoration(draw: () => void, type: 'Layout' | 'Pagination' = 'Layout'): void {
    if (this.isDecoration) {
      draw();
      return;
    }
    this.doc.markContent('Artifact', { type });
    this.isDecoration = true;
    draw();
    this.isDecoration = false;
    this.doc.endMarkedContent();
  }

  /** Ends the document; nothing but decoration may follow. */
  finish(): void {
    while (this.open.length > 0) this.end();
  }

  private get last(): { readonly tag: StructureTag; readonly element: PDFKit.PDFStructureElement } {
    return this.open[this.open.length - 1];
  }
}
