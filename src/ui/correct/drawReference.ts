import type { Point } from '../../core/geometry/point.ts';
import { formatLength, type LengthSystem } from '../../core/units/formatLength.ts';

/** A reading as a view draws it. */
export interface ReadingOnScreen {
  readonly readingM: number;
  readonly at: Point;
  /** Who placed it; null: as the machine read it. */
  readonly who: string | null;
  readonly selected: boolean;
  /** Drawn instead of the reading. */
  readonly label: string | undefined;
}

const CASING = 'rgba(0, 0, 0, 0.72)';

/**
 * The reference as it was read: its line, a diamond handle with the reading at a few places (filled and tagged where a
 * person placed it), and the two ends of the stretch as bars with arrows pointing in.
 */
export function drawReference(
  ink: CanvasRenderingContext2D,
  readings: readonly ReadingOnScreen[],
  ends: readonly (readonly [Point, Point])[],
  system: LengthSystem,
): void {
  const line = new Path2D();
  readings.forEach(({ at: [x, y] }, i) => {
    if (i === 0) line.moveTo(x, y);
    else line.lineTo(x, y);
  });
  stroke(ink, line, [], 1.5, '#ffffff', 4);
  for (const [from, to] of ends) {
    const bar = new Path2D();
    bar.moveTo(from[0], from[1]);
    bar.lineTo(to[0], to[1]);
    stroke(ink, bar, [10, 6], 2, '#ffffff', 4);
  }
  ink.textAlign = 'center';
  ink.textBaseline = 'middle';
  for (const reading of readings) drawHandle(ink, reading, system);
}

function drawHandle(
  ink: CanvasRenderingContext2D,
  { at: [x, y], readingM, who, selected, label }: ReadingOnScreen,
  system: LengthSystem,
): void {
  const r = selected ? 13 : 9;
  const diamond = new Path2D();
  diamond.moveTo(x, y - r);
  diamond.lineTo(x + r, y);
  diamond.lineTo(x, y + r);
  diamond.lineTo(x - r, y);
  diamond.closePath();
  stroke(ink, diamond, [], selected ? 4 : 2.5, '#ffffff', selected ? 8 : 5);
  if (who !== null) {
    ink.fillStyle = '#0a2a66';
    ink.fill(diamond);
  }
  const text = (label ?? formatLength(readingM, system)) + (who === null ? '' : ` ✓ ${who}`);
  ink.font = '700 13px system-ui, sans-serif';
  const below = y + r + 12;
  if (who !== null) {
    const width = ink.measureText(text).width + 10;
    const tag = new Path2D();
    tag.roundRect(x - width / 2, below - 9, width, 18, 3);
    ink.fillStyle = '#0a2a66';
    ink.fill(tag);
    ink.fillStyle = '#ffffff';
    ink.fillText(text, x, below);
    return;
  }
  ink.lineWidth = 4;
  ink.strokeStyle = CASING;
  ink.strokeText(text, x, below);
  ink.fillStyle = '#ffffff';
  ink.fillText(text, x, below);
}

function stroke(
  ink: CanvasRenderingContext2D,
  path: Path2D,
  dash: number[],
  width: number,
  colour: string,
  under: number,
): void {
  ink.setLineDash([]);
  ink.strokeStyle = CASING;
  ink.lineWidth = under;
  ink.stroke(path);
  ink.setLineDash(dash);
  ink.strokeStyle = colour;
  ink.lineWidth = width;
  ink.stroke(path);
  ink.setLineDash([]);
}
