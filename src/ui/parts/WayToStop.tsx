import type { Position } from '../../core/sampling/randomPoints.ts';
import { wayBetween } from '../../core/sampling/wayBetween.ts';
import { METRES_PER_FOOT } from '../../core/units/conversions.ts';
import { formatNumber } from '../../core/units/formatNumber.ts';
import type { VisitDocument } from '../../core/visit/visitSchema.ts';
import { noPositionText, useFixNow, whereabouts } from '../state/fix.ts';
import { FieldSketch } from './FieldSketch.tsx';

/** Nearer than a phone can tell apart under open sky. Common practice, no source. */
const THERE_M = 8;

interface WayToStopProps {
  readonly visit: VisitDocument;
  readonly outline: readonly Position[];
  readonly stops: readonly Position[];
}

/** Where the phone is, where that is known and is not long ago. */
function useHere(): { readonly at: Position; readonly errorM: number } | null {
  const now = useFixNow();
  if (now === null) return null;
  return { at: [now.latitudeDeg, now.longitudeDeg], errorM: now.errorM };
}

/** Distance and bearing to the next stop from where the phone is. */
export function WayToStop({ visit, stops }: Omit<WayToStopProps, 'outline'>) {
  const stop = stops[visit.spots.length];
  const here = useHere();
  if (stop === undefined) return null;
  const way = here === null ? null : wayBetween(here.at, stop);
  const near = Math.max(THERE_M, Math.min(here?.errorM ?? 0, 2 * THERE_M));
  return (
    <p class="stop" data-testid="way">
      {way === null ? (
        <>
          <strong>{noPositionText(whereabouts.value)}</strong>
          <span class="small">
            stop at {stop[0].toFixed(5)}, {stop[1].toFixed(5)}
          </span>
        </>
      ) : way.distanceM <= near ? (
        <strong>You are there</strong>
      ) : (
        <>
          <strong>{distanceText(way.distanceM, visit.units)}</strong> <strong>{way.point}</strong>{' '}
          <Arrow bearingDeg={way.bearingDeg} /> {Math.round(way.bearingDeg)}°
        </>
      )}
      <span class="small">
        drawn by chance; do not pick
        {here !== null && `. Position good to ${distanceText(here.errorM, visit.units)}`}
      </span>
    </p>
  );
}

/** The field with its stops and the phone, for whoever wants to look. */
export function WalkSketch({ visit, outline, stops }: WayToStopProps) {
  return <FieldSketch outline={outline} stops={stops} done={visit.spots.length} here={useHere()} />;
}

function Arrow({ bearingDeg }: { bearingDeg: number }) {
  return (
    <svg class="bearing" viewBox="-12 -12 24 24" aria-hidden="true" focusable="false">
      <path d="M0 -11l8 20l-8 -5l-8 5z" transform={`rotate(${bearingDeg.toFixed(0)})`} />
    </svg>
  );
}

/** A distance to walk, no finer than a phone knows it. */
export function distanceText(metres: number, units: VisitDocument['units']): string {
  const [unit, length] = units === 'imperial' ? ['ft', metres / METRES_PER_FOOT] : ['m', metres];
  const step = length < 100 ? 1 : 10;
  return `${formatNumber(Math.round(length / step) * step, 0)} ${unit}`;
}
