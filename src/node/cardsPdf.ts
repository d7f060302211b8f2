import PDFDocument from 'pdfkit';
import { CARD_IDS, MARKER_CELLS, MARKER_SIDE_M, markerCells } from '../core/reference/cards/cardDesign.ts';

export const PAPERS = {
  letter: { widthMm: 215.9, heightMm: 279.4, name: 'Letter' },
  a4: { widthMm: 210, heightMm: 297, name: 'A4' },
} as const;
export type Paper = keyof typeof PAPERS;

const PT_PER_MM = 72 / 25.4;
const CHECK_BAR_MM = 100;
const TITLES: Readonly<Record<(typeof CARD_IDS)[number], string>> = {
  0: 'START',
  1: 'END',
  2: 'BETWEEN',
  3: 'BETWEEN',
};

/**
 * The marker cards as a printable PDF: one card a page, its black square exactly 120 mm and in the middle of the page, with
 * a bar to measure that the printer kept the size. `createdAt` is the date written into the file, so that the same call
 * gives the same bytes.
 */
export function cardsPdf(paper: Paper, createdAt: Date): Promise<Uint8Array> {
  const { widthMm, heightMm, name } = PAPERS[paper];
  const size: [number, number] = [widthMm * PT_PER_MM, heightMm * PT_PER_MM];
  const doc = new PDFDocument({
    size,
    margin: 0,
    autoFirstPage: false,
    info: { Title: `Rowledger marker cards, ${name}`, CreationDate: createdAt, ModDate: createdAt },
  });
  for (const id of CARD_IDS) {
    doc.addPage({ size, margin: 0 });
    doc.save().scale(PT_PER_MM);
    drawCard(doc, id, widthMm, heightMm);
    doc.restore();
  }
  return collected(doc);
}

function drawCard(doc: PDFKit.PDFDocument, id: (typeof CARD_IDS)[number], widthMm: number, heightMm: number): void {
  const sideMm = MARKER_SIDE_M * 1000;
  const left = (widthMm - sideMm) / 2;
  const top = (heightMm - sideMm) / 2;
  drawMarker(doc, id, left, top, sideMm / MARKER_CELLS);

  const line = (text: string, y: number, sizeMm: number, bold = false): void => {
    doc
      .font(bold ? 'Helvetica-Bold' : 'Helvetica')
      .fontSize(sizeMm)
      .fillColor('black');
    doc.text(text, 15, y, { width: widthMm - 30, align: 'center', lineGap: 0.8 });
  };
  line(`${id}  ${TITLES[id]}`, 16, 13, true);
  line(whereToLay(id), 34, 4.6);

  const below = top + sideMm + 22;
  const barLeft = (widthMm - CHECK_BAR_MM) / 2;
  doc.lineWidth(0.5).strokeColor('black');
  doc
    .moveTo(barLeft, below)
    .lineTo(barLeft + CHECK_BAR_MM, below)
    .stroke();
  for (const x of [barLeft, barLeft + CHECK_BAR_MM])
    doc
      .moveTo(x, below - 3)
      .lineTo(x, below + 3)
      .stroke();
  line('Measure this bar: it must be 100 mm (3.94 in). If not, print again at 100 %, "actual size".', below + 5, 3.9);
  line(
    'Lay the cards flat beside the row, one at each end, any way round, black squares uncovered. ' +
      'Photograph so that both are sharp and whole.',
    below + 13,
    3.9,
  );
}

function whereToLay(id: number): string {
  if (id === 0) return 'The count starts at the middle of this square.';
  if (id === 1) return 'The count ends at the middle of this square.';
  return 'Optional: lay it between 0 and 1 on a long stretch.';
}

/** White cells on one black square: no seams between neighbours when it is printed. */
function drawMarker(doc: PDFKit.PDFDocument, id: number, left: number, top: number, cellMm: number): void {
  doc.rect(left, top, cellMm * MARKER_CELLS, cellMm * MARKER_CELLS).fill('black');
  for (const [row, cells] of markerCells(id).entries()) {
    for (const [column, white] of cells.entries()) {
      if (white) doc.rect(left + column * cellMm, top + row * cellMm, cellMm, cellMm).fill('white');
    }
  }
}

function collected(doc: PDFKit.PDFDocument): Promise<Uint8Array> {
  return new Promise((resolve, reject) => {
    const chunks: Buffer[] = [];
    doc.on('data', (chunk: Buffer) => chunks.push(chunk));
    doc.on('end', () => resolve(Buffer.concat(chunks)));
    doc.on('error', reject);
    doc.end();
  });
}
