/**
 * Draws the printable cards with an independent renderer (pdftoppm of poppler-utils) and measures them: number, and the
 * side of the black square, which must be 120 mm to a pixel. Run: npx tsx scripts/cards-check.ts
 */
import { execFileSync } from 'node:child_process';
import { mkdtempSync, readdirSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { detectMarkers } from '../src/core/reference/cards/detectMarkers.ts';
import { refineCorners } from '../src/core/reference/cards/refineCorners.ts';
import { cardsPdf, PAPERS, type Paper } from '../src/node/cardsPdf.ts';
import { readPhoto } from '../src/node/readPhoto.ts';

const DPI = 150;
/** The renderer sets edges on whole pixels: a side can be one pixel off. */
const PIXEL_MM = 25.4 / DPI;
let faults = 0;
for (const paper of Object.keys(PAPERS) as Paper[]) {
  const folder = mkdtempSync(join(tmpdir(), 'cards-'));
  writeFileSync(join(folder, 'cards.pdf'), await cardsPdf(paper, new Date(0)));
  execFileSync('pdftoppm', ['-r', String(DPI), '-png', join(folder, 'cards.pdf'), join(folder, 'page')]);
  for (const [page, file] of readdirSync(folder)
    .filter((name) => name.endsWith('.png'))
    .sort()
    .entries()) {
    const photo = await readPhoto(join(folder, file));
    if (!photo.ok) throw new Error(photo.found);
    const markers = detectMarkers(photo.value.raster);
    const corners = markers[0] === undefined ? undefined : refineCorners(photo.value.raster, markers[0])?.corners;
    const sidesMm = [0, 1, 2, 3].map((k) => {
      const [a, b] = [corners?.[k], corners?.[(k + 1) % 4]];
      return a && b ? (Math.hypot(a[0] - b[0], a[1] - b[1]) / DPI) * 25.4 : Number.NaN;
    });
    const good =
      markers.length === 1 && markers[0]?.id === page && sidesMm.every((mm) => Math.abs(mm - 120) <= PIXEL_MM);
    if (!good) faults++;
    console.log(
      `${PAPERS[paper].name.padEnd(7)} page ${page + 1}: card ${markers.map((m) => m.id).join(', ')}, sides ${sidesMm.map((mm) => mm.toFixed(2)).join(' ')} mm ${good ? 'good' : 'WRONG'}`,
    );
  }
}
process.exitCode = faults === 0 ? 0 : 1;
