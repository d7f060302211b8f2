import type { Print } from '../references.ts';
import { MARKER_SIDE_M } from '../references.ts';

/** Pixels of a printed surface per millimetre: finer than any camera in the scenes resolves. */
const PX_PER_MM = 5;
const FONTS = ['DejaVu Sans', 'DejaVu Sans Condensed', 'DejaVu Sans Mono', 'DejaVu Serif'];
const GROUNDS = {
  yellow: ['#f2c818', '#ecd02a', '#f6d53c'],
  white: ['#efeee8', '#f5f3ec', '#e8e8e6'],
  wood: ['#d9b271', '#cfa562', '#e0c08a'],
} as const;

type Tape = Extract<Print, { type: 'tape' }>;

function canvasOf(widthPx: number, heightPx: number): [HTMLCanvasElement, CanvasRenderingContext2D] {
  const canvas = document.createElement('canvas');
  canvas.width = Math.round(widthPx);
  canvas.height = Math.round(heightPx);
  const ctx = canvas.getContext('2d');
  if (ctx === null) throw new Error('No 2D canvas to draw prints on.');
  return [canvas, ctx];
}

function drawTape(tape: Tape): HTMLCanvasElement {
  const widthMm = tape.widthM * 1000;
  const lengthMm = (tape.toM - tape.fromM) * 1000;
  const [canvas, ctx] = canvasOf(lengthMm * PX_PER_MM, widthMm * PX_PER_MM);
  ctx.scale(canvas.width / lengthMm, canvas.height / widthMm);
  const grounds = GROUNDS[tape.ground];
  ctx.fillStyle = grounds[tape.style % grounds.length] as string;
  ctx.fillRect(0, 0, lengthMm, widthMm);
  if (tape.ground === 'wood') grain(ctx, lengthMm, widthMm);
  if (tape.style & 4) {
    // Graduations from the other edge; the numerals stay upright.
    ctx.translate(0, widthMm);
    ctx.scale(1, -1);
  }
  const flip = (tape.style & 4) !== 0;
  ctx.translate(-tape.fromM * 1000, 0);
  const font = FONTS[(tape.style * 7 + (tape.unit === 'in' ? 1 : 0)) % FONTS.length] as string;
  const draw = { ctx, widthMm, font, flip, bothEdges: (tape.style & 2) !== 0, restart: (tape.style & 1) !== 0 };
  if (tape.unit === 'in') drawInches(draw, tape.fromM * 1000, tape.toM * 1000);
  else drawCentimetres(draw, tape.fromM * 1000, tape.toM * 1000);
  return canvas;
}

type Draw = {
  ctx: CanvasRenderingContext2D;
  widthMm: number;
  font: string;
  flip: boolean;
  bothEdges: boolean;
  restart: boolean;
};

function tick(d: Draw, atMm: number, share: number, thickMm: number, colour = '#161616'): void {
  d.ctx.fillStyle = colour;
  const long = share * d.widthMm;
  d.ctx.fillRect(atMm - thickMm / 2, 0, thickMm, long);
  if (d.bothEdges) d.ctx.fillRect(atMm - thickMm / 2, d.widthMm - long * 0.8, thickMm, long * 0.8);
}

/** Text centred at a point of the tape, upright for one side; `flip` undoes the mirrored drawing. */
function label(
  d: Draw,
  text: string,
  atMm: number,
  acrossMm: number,
  heightMm: number,
  colour: string,
  box?: string,
): void {
  const { ctx } = d;
  ctx.save();
  ctx.translate(atMm, acrossMm);
  if (d.flip) ctx.scale(1, -1);
  ctx.font = `bold ${heightMm * 1.35}px "${d.font}"`;
  ctx.textAlign = 'center';
  ctx.textBaseline = 'middle';
  if (box !== undefined) {
    const wide = ctx.measureText(text).width + heightMm * 0.4;
    ctx.fillStyle = box;
    ctx.fillRect(-wide / 2, -heightMm * 0.75, wide, heightMm * 1.5);
  }
  ctx.fillStyle = colour;
  ctx.fillText(text, 0, heightMm * 0.06);
  ctx.restore();
}

function drawInches(d: Draw, fromMm: number, toMm: number): void {
  const sixteenth = 25.4 / 16;
  const line = d.widthMm * (d.bothEdges ? 0.5 : 0.68);
  const size = Math.min(9, d.widthMm * 0.36);
  for (let k = Math.floor(fromMm / sixteenth) - 24; k * sixteenth < toMm + 40; k++) {
    if (k <= 0) continue;
    const at = k * sixteenth;
    const inch = k / 16;
    if (k % 16 === 0) tick(d, at, d.restart ? 0.52 : 0.6, 0.45, inch % 12 === 0 ? '#b3121c' : '#161616');
    else if (k % 8 === 0) tick(d, at, 0.42, 0.38);
    else if (k % 4 === 0) tick(d, at, 0.32, 0.34);
    else if (k % 2 === 0) tick(d, at, 0.24, 0.3);
    else tick(d, at, 0.16, 0.28);
    if (k % 16 !== 0) continue;
    const shift = d.restart ? 0 : -size * (inch >= 10 ? 0.95 : 0.6);
    const across = d.restart ? d.widthMm * 0.77 : line;
    if (inch % 12 === 0) {
      label(
        d,
        d.restart ? `${inch / 12}F` : `${inch}`,
        at + shift,
        across,
        size * 0.95,
        d.restart ? '#fff' : '#b3121c',
        d.restart ? '#b3121c' : undefined,
      );
      if (!d.restart) label(d, `${inch / 12}F`, at + size * 0.95, line, size * 0.55, '#b3121c');
    } else
      label(
        d,
        `${d.restart ? inch % 12 : inch}`,
        at + shift,
        across,
        size,
        inch % 16 === 0 && !d.restart ? '#b3121c' : '#161616',
      );
  }
}

function drawCentimetres(d: Draw, fromMm: number, toMm: number): void {
  const size = Math.min(5.4, d.widthMm * 0.36);
  for (let mm = Math.floor(fromMm) - 30; mm < toMm + 30; mm++) {
    if (mm <= 0) continue;
    if (mm % 100 === 0) tick(d, mm, 0.62, 0.5, '#b3121c');
    else if (mm % 10 === 0) tick(d, mm, 0.5, 0.36);
    else if (mm % 5 === 0) tick(d, mm, 0.36, 0.3);
    else tick(d, mm, 0.24, 0.24);
    if (mm % 10 !== 0) continue;
    const cm = mm / 10;
    const across = d.widthMm * (d.bothEdges ? 0.55 : 0.77);
    const shift = d.bothEdges ? -size * (cm >= 100 ? 1 : cm >= 10 ? 0.75 : 0.5) : 0;
    if (cm % 100 === 0) label(d, `${cm / 100}m`, mm + shift, across, size, '#fff', '#b3121c');
    else if (cm % 10 === 0) label(d, `${cm}`, mm + shift, across, size, '#b3121c');
    else
      label(
        d,
        `${d.restart ? cm % 10 : cm}`,
        mm + shift,
        across,
        Math.min(size, cm >= 100 && !d.restart ? 4.2 : size),
        '#161616',
      );
  }
}

function grain(ctx: CanvasRenderingContext2D, lengthMm: number, widthMm: number): void {
  ctx.strokeStyle = 'rgba(110,70,25,0.22)';
  for (let i = 0; i < 26; i++) {
    ctx.lineWidth = 0.1 + (i % 5) * 0.08;
    ctx.beginPath();
    for (let x = 0; x <= lengthMm; x += 12) {
      const y = (widthMm * (i + 0.5)) / 26 + Math.sin(x * 0.013 + i * 2.4) * 0.5;
      if (x === 0) ctx.moveTo(x, y);
      else ctx.lineTo(x, y);
    }
    ctx.stroke();
  }
}

function drawCard(card: Extract<Print, { type: 'card' }>, code: string): HTMLCanvasElement {
  const [w, h] = [card.widthM * 1000, card.heightM * 1000];
  const [canvas, ctx] = canvasOf(w * PX_PER_MM, h * PX_PER_MM);
  ctx.scale(PX_PER_MM, PX_PER_MM);
  ctx.fillStyle = '#f4f4f2';
  ctx.fillRect(0, 0, w, h);
  const side = MARKER_SIDE_M * 1000;
  const cell = side / 8;
  const [x0, y0] = [(w - side) / 2, (h - side) / 2];
  ctx.fillStyle = '#141414';
  ctx.fillRect(x0, y0, side, side);
  ctx.fillStyle = '#f4f4f2';
  for (let y = 0; y < 6; y++)
    for (let x = 0; x < 6; x++)
      if (code[y * 6 + x] === '1') ctx.fillRect(x0 + (x + 1) * cell, y0 + (y + 1) * cell, cell * 1.002, cell * 1.002);
  ctx.fillStyle = '#222';
  ctx.font = '9px "DejaVu Sans"';
  ctx.textAlign = 'center';
  ctx.fillText(card.id === 0 ? 'Start' : 'End', w / 2, y0 + side + 34);
  return canvas;
}

/** `markerCodes` holds the 36 bits of each marker, row by row, '1' for white. */
export function drawPrint(print: Print, markerCodes: readonly string[]): HTMLCanvasElement {
  return print.type === 'tape' ? drawTape(print) : drawCard(print, markerCodes[print.id] as string);
}
