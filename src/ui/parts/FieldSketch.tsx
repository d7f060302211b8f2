import { toFlat } from '../../core/sampling/metresPerDegree.ts';
import type { Position } from '../../core/sampling/randomPoints.ts';

const SIDE = 320;
const EDGE = 24;

interface FieldSketchProps {
  readonly outline: readonly Position[];
  readonly isOpen?: boolean;
  readonly stops?: readonly Position[];
  /** How many stops are done; the one after them is next. */
  readonly done?: number;
  readonly here?: { readonly at: Position; readonly errorM: number } | null;
}

/** The field drawn from its corners, north up, with stops and where the phone is. The numbers stand beside it. */
export function FieldSketch({ outline, isOpen = false, stops = [], done = 0, here = null }: FieldSketchProps) {
  const origin = outline[0] ?? here?.at;
  if (origin === undefined) return null;
  const flat = outline.map((corner) => toFlat(corner, origin));
  const box = (isWest: boolean) => {
    const pick = isWest ? Math.min : Math.max;
    return { x: pick(...flat.map((p) => p.x)), y: pick(...flat.map((p) => p.y)) };
  };
  const me = here === null ? null : toFlat(here.at, origin);
  if (flat.length === 0 && me !== null) flat.push(me);
  const [low, high] = [box(true), box(false)];
  const metresPerUnit = Math.max(high.x - low.x, high.y - low.y, 20) / (SIDE - 2 * EDGE);
  const height = Math.max(120, (high.y - low.y) / metresPerUnit + 2 * EDGE);
  const middle = { x: (low.x + high.x) / 2, y: (low.y + high.y) / 2 };
  const place = (p: { x: number; y: number }) => ({
    x: SIDE / 2 + (p.x - middle.x) / metresPerUnit,
    y: height / 2 - (p.y - middle.y) / metresPerUnit,
  });
  const text = (p: { x: number; y: number }) => `${p.x.toFixed(1)},${p.y.toFixed(1)}`;
  const next = stops[done] === undefined ? null : place(toFlat(stops[done], origin));
  const where = me === null ? null : place(me);
  const inside = (p: { x: number; y: number }) => ({
    x: Math.min(SIDE - 10, Math.max(10, p.x)),
    y: Math.min(height - 10, Math.max(10, p.y)),
  });
  return (
    <svg class="sketch" viewBox={`0 0 ${SIDE} ${height.toFixed(0)}`} aria-hidden="true" focusable="false">
      {isOpen ? (
        <polyline points={flat.map((p) => text(place(p))).join(' ')} class="sketch-open" />
      ) : (
        <polygon points={flat.map((p) => text(place(p))).join(' ')} class="sketch-field" />
      )}
      {isOpen && flat.map((p, i) => <circle key={i} cx={place(p).x} cy={place(p).y} r="5" class="sketch-corner" />)}
      <path d={`M${SIDE - 14} 26V6l-5 9h10l-5-9`} class="sketch-north" />
      {next !== null && where !== null && <path d={`M${text(inside(where))}L${text(next)}`} class="sketch-way" />}
      {stops.slice(0, done + 1).map((stop, i) => {
        const at = place(toFlat(stop, origin));
        return (
          <g key={i} class={i === done ? 'sketch-next' : 'sketch-done'}>
            <circle cx={at.x} cy={at.y} r={i === done ? 13 : 8} />
            <text x={at.x} y={at.y + (i === done ? 5.5 : 4)} font-size={i === done ? 16 : 11}>
              {i + 1}
            </text>
          </g>
        );
      })}
      {where !== null && here !== null && (
        <g class="sketch-here">
          <circle
            cx={inside(where).x}
            cy={inside(where).y}
            r={Math.min(60, here.errorM / metresPerUnit)}
            class="sketch-error"
          />
          <path d={`M${text(inside(where))}m0 -11l8 20l-8 -5l-8 5z`} />
        </g>
      )}
    </svg>
  );
}
