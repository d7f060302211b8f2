import type { Assessment } from '../../core/visit/assessment.ts';

const WIDTH = 320;
const HEIGHT = 56;
const BASE = 38;
/** Room that a post's name takes. */
const NAME_PX = 44;

/**
 * The stand on a ruled line: target and floor as posts on it, the interval as a band, the mean as a stem, each spot as
 * a notch below. Shape tells them apart, and the posts carry their names; the numbers stand beside it.
 */
export function StandRule({ assessment: a }: { assessment: Assessment }) {
  const { stand, target, floorPerM2, spots } = a;
  const counted = spots.flatMap((spot) => (spot.perM2 === null ? [] : [spot.perM2]));
  const most = Math.max(target.perM2 * 1.25, stand?.high ?? 0, stand?.perM2 ?? 0, ...counted) * 1.02;
  const x = (perM2: number) => 8 + (Math.max(0, perM2) / most) * (WIDTH - 16);
  const floorIsLow = x(floorPerM2) < NAME_PX;
  return (
    <svg class="rule" viewBox={`0 0 ${WIDTH} ${HEIGHT}`} aria-hidden="true" focusable="false">
      <line x1="4" x2={WIDTH - 4} y1={BASE} y2={BASE} class="rule-line" />
      {stand?.low != null && stand.high !== null && (
        <rect
          x={x(stand.low)}
          width={Math.max(2, x(stand.high) - x(stand.low))}
          y={BASE - 12}
          height="12"
          class="rule-band"
        />
      )}
      <path d={`M${x(target.perM2)} ${BASE}V6h10l-4 5 4 5h-10`} class="rule-target" />
      <text x={x(target.perM2) + 14} y="15" class="rule-name">
        target
      </text>
      <path d={`M${x(floorPerM2)} ${BASE}V6`} class="rule-floor" />
      <text
        x={x(floorPerM2) + (floorIsLow ? 5 : -5)}
        y="15"
        text-anchor={floorIsLow ? 'start' : 'end'}
        class="rule-name"
      >
        floor
      </text>
      {counted.map((perM2, i) => (
        <path key={i} d={`M${x(perM2)} ${BASE + 3}v10`} class="rule-spot" />
      ))}
      {stand !== null && <path d={`M${x(stand.perM2)} ${BASE + 4}l-6 -22h12z`} class="rule-mean" />}
    </svg>
  );
}
