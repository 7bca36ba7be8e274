import PDFDocument from 'pdfkit';

/** No clock is read: a document of the same report is the same bytes, whenever it is written. */
const fixedDate = new Date(Date.UTC(2000, 0, 1));

/** A tagged A4 document without margins and without faces of its own, and its bytes once it has ended. */
export function openDocument(
  title: string,
  language: string,
  version: string,
): { readonly doc: PDFKit.PDFDocument; readonly finished: Promise<Uint8Array> } {
  const doc = new PDFDocument({
    size: 'A4',
    margin: 0,
    bufferPages: true,
    // None of the writer's own faces is used. Its types do not know that there may be none.
    font: null as unknown as undefined,
    pdfVersion: '1.7',
    lang: language,
    tagged: true,
    displayTitle: true,
    info: { Title: title, Producer: 'Plateglass', Creator: `Plateglass ${version}`, CreationDate: fixedDate },
  });
  const chunks: Buffer[] = [];
  const finished = new Promise<Uint8Array>((resolve, reject) => {
    doc.on('data', (chunk: Buffer) => chunks.push(chunk));
    doc.on('end', () => resolve(Buffer.concat(chunks)));
    doc.on('error', reject);
  });
  return { doc, finished };
}
