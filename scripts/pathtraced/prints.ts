/** Pictures of what is printed: tapes with their graduations and the marker cards as the printable PDF shows them. */
import { execFileSync } from 'node:child_process';
import { mkdirSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import sharp from 'sharp';
import { cardsPdf } from '../../src/node/cardsPdf.ts';

const PX_PER_MM = 4;
const CARD_DPI = 150;

/** Writes `tape-in-N.png`, `tape-cm-N.png` and `card-N.png` into a folder: pieces of 24 in and of 50 cm. */
export async function writePrints(folder: string): Promise<void> {
  mkdirSync(folder, { recursive: true });
  for (let piece = 0; piece < 8; piece++) {
    await paint(inchPiece(piece), join(folder, `tape-in-${piece}.png`));
    await paint(cmPiece(piece), join(folder, `tape-cm-${piece}.png`));
  }
  await paintGrain(join(folder, 'grain.png'));
  const pdf = join(folder, 'cards.pdf');
  writeFileSync(pdf, await cardsPdf('letter', new Date(0)));
  for (const id of [0, 1]) {
    const page = String(id + 1);
    execFileSync('pdftoppm', [
      '-png',
      '-singlefile',
      '-r',
      String(CARD_DPI),
      '-f',
      page,
      pdf,
      join(folder, `card-${id}`),
    ]);
  }
}

async function paint(svg: string, file: string): Promise<void> {
  await sharp(Buffer.from(svg)).flatten().png().toFile(file);
}

function svgOf(widthMm: number, heightMm: number, ground: string, body: readonly string[]): string {
  const [w, h] = [widthMm * PX_PER_MM, heightMm * PX_PER_MM];
  return (
    `<svg xmlns="http://www.w3.org/2000/svg" width="${w}" height="${h}" viewBox="0 0 ${widthMm} ${heightMm}">` +
    `<rect width="100%" height="100%" fill="${ground}"/>${body.join('')}</svg>`
  );
}

const tick = (x: number, y: number, length: number, wide: number, colour = '#111'): string =>
  `<rect x="${(x - wide / 2).toFixed(3)}" y="${y}" width="${wide}" height="${length}" fill="${colour}"/>`;

const word = (x: number, y: number, size: number, text: string, colour = '#111', anchor = 'end'): string =>
  `<text x="${x.toFixed(2)}" y="${y}" font-size="${size}" font-family="DejaVu Sans Condensed" font-weight="bold" ` +
  `text-anchor="${anchor}" fill="${colour}">${text}</text>`;

/** Yellow, 25 mm: sixteenths on both edges, every inch numbered, feet in red. */
function inchPiece(piece: number): string {
  const inch = 25.4;
  const body: string[] = [];
  for (let s = 0; s <= 24 * 16; s++) {
    const x = (s / 16) * inch;
    const length = s % 16 === 0 ? 25 : s % 8 === 0 ? 8.5 : s % 4 === 0 ? 6.5 : s % 2 === 0 ? 4.8 : 3.2;
    body.push(tick(x, 0, length, s % 16 === 0 ? 0.55 : 0.38));
    if (s % 16 !== 0) body.push(tick(x, 25 - length, length, 0.38));
  }
  for (let i = 0; i <= 24; i++) {
    const total = piece * 24 + i;
    if (total === 0) continue;
    const foot = total % 12 === 0;
    if (foot) body.push(`<rect x="${i * inch - 13}" y="9" width="12" height="8" fill="#c01818"/>`);
    body.push(
      word(i * inch - 1.6, 16, foot ? 7 : 8.2, foot ? `${total / 12}F` : String(total), foot ? '#fff' : '#111'),
    );
  }
  return svgOf(24 * inch, 25, '#f2c715', body);
}

/** White, 19 mm: millimetres on one edge, every centimetre numbered, decimetres in red, metres named. */
function cmPiece(piece: number): string {
  const body: string[] = [];
  for (let mm = 0; mm <= 500; mm++) {
    const length = mm % 10 === 0 ? 8 : mm % 5 === 0 ? 5.5 : 3.6;
    body.push(tick(mm, 0, length, mm % 10 === 0 ? 0.4 : 0.3));
    if (mm % 10 === 0) body.push(tick(mm, 16, 3, 0.4));
  }
  for (let cm = 0; cm <= 50; cm++) {
    const total = piece * 50 + cm;
    if (total === 0) continue;
    const round = total % 10 === 0;
    body.push(word(cm * 10 - 0.7, 14.6, round ? 6.4 : 5.2, String(total), round ? '#c01818' : '#111'));
    if (total > 100 && round) body.push(word(cm * 10 + 0.7, 14.6, 3.4, `${Math.floor(total / 100)}m`, '#111', 'start'));
  }
  return svgOf(500, 19, '#f4f3ee', body);
}

const GRAIN_PX = 1024;

/** A seamless tile of three fractal noises (red rough, green smooth, blue between), seeded. */
async function paintGrain(file: string): Promise<void> {
  const data = Buffer.alloc(GRAIN_PX * GRAIN_PX * 3);
  for (const [channel, falloff] of [0.85, 0.5, 0.68].entries()) {
    const sum = new Float64Array(GRAIN_PX * GRAIN_PX);
    for (let octave = 2, share = 1; octave <= 9; octave++, share *= falloff)
      addNoise(sum, 2 ** octave, share, channel + 1);
    const sorted = Float64Array.from(sum.filter((_, i) => i % 97 === 0)).sort();
    const low = sorted[Math.floor(sorted.length * 0.005)] ?? 0;
    const high = sorted[Math.floor(sorted.length * 0.995)] ?? 1;
    sum.forEach((v, i) => {
      data[i * 3 + channel] = Math.max(0, Math.min(255, ((v - low) / (high - low)) * 255));
    });
  }
  await sharp(data, { raw: { width: GRAIN_PX, height: GRAIN_PX, channels: 3 } })
    .png()
    .toFile(file);
}

/** Adds smooth noise with `cells` cells a side, wrapping round. */
function addNoise(sum: Float64Array, cells: number, share: number, seed: number): void {
  let state = (seed * 2654435761 + cells * 40503) >>> 0;
  const next = () => {
    state = (Math.imul(state, 1664525) + 1013904223) >>> 0;
    return state / 4294967296;
  };
  const lattice = Float64Array.from({ length: cells * cells }, next);
  const ease = (t: number) => t * t * (3 - 2 * t);
  for (let y = 0; y < GRAIN_PX; y++) {
    const [fy, v] = [Math.floor((y * cells) / GRAIN_PX), ease(((y * cells) / GRAIN_PX) % 1)];
    const [above, below] = [fy * cells, ((fy + 1) % cells) * cells];
    for (let x = 0; x < GRAIN_PX; x++) {
      const [fx, u] = [Math.floor((x * cells) / GRAIN_PX), ease(((x * cells) / GRAIN_PX) % 1)];
      const right = (fx + 1) % cells;
      const top = lattice[above + fx]! * (1 - u) + lattice[above + right]! * u;
      const bottom = lattice[below + fx]! * (1 - u) + lattice[below + right]! * u;
      sum[y * GRAIN_PX + x]! += share * (top * (1 - v) + bottom * v);
    }
  }
}
