import type { Point } from '../../core/geometry/point.ts';
import type { Mark } from './marks.ts';

/** Ink of the person's tags, the casing under every line, and the machine's line. */
const YOURS = '#0a2a66';
const CASING = 'rgba(0, 0, 0, 0.72)';
const LINES = { sure: '#ffffff', fairly: '#ffe14d', weed: '#ff9ed2', unsure: '#e4e4e4', gone: '#ffffff' } as const;

/**
 * One mark at a screen place. Ring: counted plant; broken ring: less sure; cross: weed; square: could not tell; small
 * struck ring: taken off. The machine's number stands free; a person's mark has a filled tag with who and what, and its
 * ring is double. Told apart by shape and label; colours only help.
 */
export function drawMark(
  ink: CanvasRenderingContext2D,
  mark: Mark,
  [x, y]: Point,
  radius: number,
  state: { readonly selected: boolean; readonly roomy: boolean; readonly lift: number },
): void {
  const r = mark.shape === 'gone' ? radius * 0.6 : radius;
  const outside = !mark.plant.inStretch;
  ink.globalAlpha = outside && !state.selected ? 0.6 : 1;
  if (state.selected) drawSelected(ink, x, y, radius);
  const trace = new Path2D();
  if (mark.shape === 'weed') {
    trace.moveTo(x - r, y - r);
    trace.lineTo(x + r, y + r);
    trace.moveTo(x + r, y - r);
    trace.lineTo(x - r, y + r);
  } else if (mark.shape === 'unsure') {
    trace.rect(x - r, y - r, 2 * r, 2 * r);
  } else {
    trace.arc(x, y, r, 0, 2 * Math.PI);
  }
  if (mark.sign !== null && mark.shape !== 'weed' && mark.shape !== 'gone') {
    const inner = r * 0.55;
    if (mark.shape === 'unsure') trace.rect(x - inner, y - inner, 2 * inner, 2 * inner);
    else {
      trace.moveTo(x + inner, y);
      trace.arc(x, y, inner, 0, 2 * Math.PI);
    }
  }
  if (mark.shape === 'gone') {
    trace.moveTo(x - radius, y + radius);
    trace.lineTo(x + radius, y - radius);
  }
  if (mark.plant.damaged) {
    // A broken stem: a zigzag below the ring.
    trace.moveTo(x - r * 0.9, y + r * 1.5);
    trace.lineTo(x - r * 0.2, y + r * 2.2);
    trace.lineTo(x + r * 0.2, y + r * 1.5);
    trace.lineTo(x + r * 0.9, y + r * 2.2);
  }
  ink.lineJoin = 'round';
  ink.setLineDash([]);
  ink.strokeStyle = CASING;
  ink.lineWidth = Math.max(4, r / 2.2);
  ink.stroke(trace);
  ink.setLineDash(mark.shape === 'fairly' && mark.sign === null ? [r * 0.7, r * 0.5] : []);
  ink.strokeStyle = LINES[mark.shape];
  ink.lineWidth = Math.max(2, r / 4.5);
  ink.stroke(trace);
  ink.setLineDash([]);
  drawLabel(ink, mark, x, y - radius - 5, state);
  ink.globalAlpha = 1;
}

/** Brackets around the mark in hand: seen in any light and over any ring. */
function drawSelected(ink: CanvasRenderingContext2D, x: number, y: number, radius: number): void {
  const far = radius * 1.75;
  const arm = radius * 0.8;
  const trace = new Path2D();
  for (const [sx, sy] of [
    [-1, -1],
    [1, -1],
    [1, 1],
    [-1, 1],
  ] as const) {
    trace.moveTo(x + sx * far, y + sy * (far - arm));
    trace.lineTo(x + sx * far, y + sy * far);
    trace.lineTo(x + sx * (far - arm), y + sy * far);
  }
  ink.setLineDash([]);
  ink.strokeStyle = '#000000';
  ink.lineWidth = 7;
  ink.stroke(trace);
  ink.strokeStyle = '#ffffff';
  ink.lineWidth = 3.5;
  ink.stroke(trace);
}

function drawLabel(
  ink: CanvasRenderingContext2D,
  mark: Mark,
  x: number,
  foot: number,
  { roomy, selected, lift }: { readonly roomy: boolean; readonly selected: boolean; readonly lift: number },
): void {
  const bottom = foot - lift;
  const number = mark.number === null ? '' : String(mark.number);
  ink.font = '700 13px system-ui, sans-serif';
  ink.textAlign = 'center';
  ink.textBaseline = 'middle';
  if (mark.sign === null) {
    if (number === '') return;
    ink.lineWidth = 4;
    ink.strokeStyle = CASING;
    ink.strokeText(number, x, bottom - 8);
    ink.fillStyle = '#ffffff';
    ink.fillText(number, x, bottom - 8);
    return;
  }
  const text = [number, mark.sign, ...(roomy || selected ? [mark.who ?? ''] : [])]
    .filter((part) => part !== '')
    .join(' ');
  const width = ink.measureText(text).width + 10;
  // A tag with a point towards its mark.
  const tag = new Path2D();
  tag.roundRect(x - width / 2, bottom - 19, width, 18, 3);
  tag.moveTo(x - 5, bottom - 2);
  tag.lineTo(x, foot + 4);
  tag.lineTo(x + 5, bottom - 2);
  ink.fillStyle = YOURS;
  ink.strokeStyle = '#ffffff';
  ink.lineWidth = 2;
  ink.stroke(tag);
  ink.fill(tag);
  ink.fillStyle = '#ffffff';
  ink.fillText(text, x, bottom - 9.5);
}

/** From where the machine had a mark to where a person put it. */
export function drawMoved(ink: CanvasRenderingContext2D, from: Point, to: Point): void {
  if (Math.hypot(to[0] - from[0], to[1] - from[1]) < 6) return;
  const trace = new Path2D();
  trace.moveTo(from[0], from[1]);
  trace.lineTo(to[0], to[1]);
  const dot = new Path2D();
  dot.arc(from[0], from[1], 3, 0, 2 * Math.PI);
  ink.setLineDash([]);
  ink.strokeStyle = CASING;
  ink.lineWidth = 5;
  ink.stroke(trace);
  ink.strokeStyle = '#ffffff';
  ink.lineWidth = 1.5;
  ink.stroke(trace);
  ink.fillStyle = '#ffffff';
  ink.fill(dot);
}

/** A plant about to be put: a plus in a ring that is not yet a mark. */
export function drawGhost(ink: CanvasRenderingContext2D, [x, y]: Point, radius: number): void {
  drawSelected(ink, x, y, radius);
  const trace = new Path2D();
  trace.arc(x, y, radius, 0, 2 * Math.PI);
  trace.moveTo(x - radius * 0.6, y);
  trace.lineTo(x + radius * 0.6, y);
  trace.moveTo(x, y - radius * 0.6);
  trace.lineTo(x, y + radius * 0.6);
  ink.strokeStyle = CASING;
  ink.lineWidth = 5;
  ink.stroke(trace);
  ink.setLineDash([4, 3]);
  ink.strokeStyle = '#ffffff';
  ink.lineWidth = 2.5;
  ink.stroke(trace);
  ink.setLineDash([]);
}
