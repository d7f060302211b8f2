import type { Point } from '../../core/geometry/point.ts';
import type { Mark } from './marks.ts';
import { putStamp, stampOf } from './stamps.ts';

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
  state: LabelState,
): void {
  const outside = !mark.plant.inStretch;
  ink.globalAlpha = outside && !state.selected ? 0.6 : 1;
  if (state.selected) drawSelected(ink, x, y, radius);
  // In half pixels, so that a glide needs few stamps.
  const size = Math.round(radius * 2) / 2;
  const look: RingLook = { shape: mark.shape, radius: size, isYours: mark.sign !== null, damaged: mark.plant.damaged };
  const side = 2 * (size * 2.2 + 6);
  putStamp(ink, `ring ${Object.values(look).join(' ')}`, state.ratio, [x, y], [side, side], (on) =>
    paintRing(on, look),
  );
  drawLabel(ink, mark, x, y - radius - 5, state);
  ink.globalAlpha = 1;
}

interface LabelState {
  readonly selected: boolean;
  /** Whether there is room for names. */
  readonly roomy: boolean;
  /** How far a label is raised above its neighbours', screen pixels. */
  readonly lift: number;
  /** Device pixels per screen pixel. */
  readonly ratio: number;
}

interface RingLook {
  readonly shape: Mark['shape'];
  readonly radius: number;
  readonly isYours: boolean;
  readonly damaged: boolean;
}

/** A mark's ring around (0, 0). */
function paintRing(ink: OffscreenCanvasRenderingContext2D, { shape, radius, isYours, damaged }: RingLook): void {
  const r = shape === 'gone' ? radius * 0.6 : radius;
  const trace = new Path2D();
  if (shape === 'weed') {
    trace.moveTo(-r, -r);
    trace.lineTo(r, r);
    trace.moveTo(r, -r);
    trace.lineTo(-r, r);
  } else if (shape === 'unsure') {
    trace.rect(-r, -r, 2 * r, 2 * r);
  } else {
    trace.arc(0, 0, r, 0, 2 * Math.PI);
  }
  if (isYours && shape !== 'weed' && shape !== 'gone') {
    const inner = r * 0.55;
    if (shape === 'unsure') trace.rect(-inner, -inner, 2 * inner, 2 * inner);
    else {
      trace.moveTo(inner, 0);
      trace.arc(0, 0, inner, 0, 2 * Math.PI);
    }
  }
  if (shape === 'gone') {
    trace.moveTo(-radius, radius);
    trace.lineTo(radius, -radius);
  }
  if (damaged) {
    // A broken stem: a zigzag below the ring.
    trace.moveTo(-r * 0.9, r * 1.5);
    trace.lineTo(-r * 0.2, r * 2.2);
    trace.lineTo(r * 0.2, r * 1.5);
    trace.lineTo(r * 0.9, r * 2.2);
  }
  ink.lineJoin = 'round';
  ink.strokeStyle = CASING;
  ink.lineWidth = Math.max(4, r / 2.2);
  ink.stroke(trace);
  ink.setLineDash(shape === 'fairly' && !isYours ? [r * 0.7, r * 0.5] : []);
  ink.strokeStyle = LINES[shape];
  ink.lineWidth = Math.max(2, r / 4.5);
  ink.stroke(trace);
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
  { roomy, selected, lift, ratio }: LabelState,
): void {
  const number = mark.number === null ? '' : String(mark.number);
  if (mark.sign === null) {
    if (number === '') return;
    putStamp(ink, `number ${number}`, ratio, [x, foot - lift - 8], numberSize(number), (on) => paintNumber(on, number));
    return;
  }
  const words = [number, mark.sign, ...(roomy || selected ? [mark.who ?? ''] : [])].filter((part) => part !== '');
  const widths = words.map((word) => widthOf(word) + WORD_SPACE_PX);
  const width = Math.ceil(widths.reduce((a, b) => a + b, 0)) - WORD_SPACE_PX + 10;
  // The stamp reaches as far below its middle, the foot, as above.
  putStamp(ink, `tag ${width} ${lift}`, ratio, [x, foot], [width + 4, 2 * (lift + 22)], (on) =>
    paintTag(on, width, lift),
  );
  // Word by word: an answer numbers the marks behind it anew, and a stamp of its own for each would be painted at once.
  let left = x - width / 2 + 5;
  words.forEach((word, i) => {
    const wide = widths[i]! - WORD_SPACE_PX;
    putStamp(ink, `word ${word}`, ratio, [left + wide / 2, foot - lift - 9.5], [wide + 4, 20], (on) =>
      paintWord(on, word),
    );
    left += widths[i]!;
  });
}

/** Makes the stamps of a number ahead of need: an answer numbers all marks behind it anew. */
export function makeNumber(number: number, ratio: number): void {
  const text = String(number);
  stampOf(`number ${text}`, ratio, numberSize(text), (on) => paintNumber(on, text));
  stampOf(`word ${text}`, ratio, [widthOf(text) + 4, 20], (on) => paintWord(on, text));
}

const numberSize = (number: string): Point => [10 * number.length + 10, 22];

/** A machine mark's number, around (0, 0). */
function paintNumber(ink: OffscreenCanvasRenderingContext2D, number: string): void {
  write(ink);
  ink.lineWidth = 4;
  ink.strokeStyle = CASING;
  ink.strokeText(number, 0, 0);
  ink.fillStyle = '#ffffff';
  ink.fillText(number, 0, 0);
}

/** A word of a tag, around (0, 0). */
function paintWord(ink: OffscreenCanvasRenderingContext2D, word: string): void {
  write(ink);
  ink.fillStyle = '#ffffff';
  ink.fillText(word, 0, 0);
}

const WORD_SPACE_PX = 4;
const widthsKnown = new Map<string, number>();

/** Width of a word on a tag, screen pixels. */
function widthOf(word: string): number {
  const known = widthsKnown.get(word);
  if (known !== undefined) return known;
  const ink = new OffscreenCanvas(1, 1).getContext('2d');
  if (ink === null) return 9 * word.length;
  write(ink);
  const { width } = ink.measureText(word);
  widthsKnown.set(word, width);
  return width;
}

/** A tag over (0, 0), its foot, with a point towards its mark. */
function paintTag(ink: OffscreenCanvasRenderingContext2D, width: number, lift: number): void {
  const tag = new Path2D();
  tag.roundRect(-width / 2, -lift - 19, width, 18, 3);
  tag.moveTo(-5, -lift - 2);
  tag.lineTo(0, 4);
  tag.lineTo(5, -lift - 2);
  ink.fillStyle = YOURS;
  ink.strokeStyle = '#ffffff';
  ink.lineWidth = 2;
  ink.stroke(tag);
  ink.fill(tag);
}

function write(ink: OffscreenCanvasRenderingContext2D): void {
  ink.font = '700 13px system-ui, sans-serif';
  ink.textAlign = 'center';
  ink.textBaseline = 'middle';
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
