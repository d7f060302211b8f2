import { useEffect } from 'preact/hooks';
import { outlineAreaM2 } from '../../core/sampling/outlineAreaM2.ts';
import type { Position } from '../../core/sampling/randomPoints.ts';
import { wayBetween } from '../../core/sampling/wayBetween.ts';
import { phrasingFor } from '../../core/visit/phrasing.ts';
import { FieldSketch } from '../parts/FieldSketch.tsx';
import { distanceText } from '../parts/WayToStop.tsx';
import { saveSettings, settings } from '../state/app.ts';
import { noPositionText, useFixNow, whereabouts } from '../state/fix.ts';

/** A corner from a worse fix than this would move the edge more than a planter is wide. Common practice, no source. */
const WORST_FIX_M = 15;
/** The edge follows the walker this closely between corners. */
const STEP_M = 20;

interface WalkOutlineProps {
  readonly field: string;
  readonly onDone: (outline: readonly Position[]) => Promise<void>;
  readonly onClose: () => void;
}

/** Along the edge of the field: corners by tap, the line between them by itself. Kept through a restart until done. */
export function WalkOutline({ field, onDone, onClose }: WalkOutlineProps) {
  const { walked, units } = settings.value;
  const corners = walked?.field === field ? walked.corners : [];
  const isTracking = walked?.field === field && walked.isTracking;
  const keep = (next: readonly Position[], tracking = isTracking) =>
    void saveSettings({ walked: { field, corners: next, isTracking: tracking } });
  const now = useFixNow();
  const here: Position | null = now === null ? null : [now.latitudeDeg, now.longitudeDeg];
  const isGood = now !== null && now.errorM <= WORST_FIX_M;
  useEffect(() => {
    const last = corners.at(-1);
    if (!isTracking || here === null || !isGood) return;
    if (last === undefined || wayBetween(last, here).distanceM >= STEP_M) keep([...corners, here]);
  }, [now]);
  useStayingOn(isTracking);
  const end = async () => {
    await onDone(corners);
    await saveSettings({ walked: null });
  };
  return (
    <>
      <h1>Walk the edge</h1>
      <p class="big" aria-live="polite" data-testid="corners">
        {corners.length}
        <span class="small">
          {' '}
          {corners.length === 1 ? 'corner' : 'corners'}
          {corners.length >= 3 && `, ${phrasingFor(units, null).area(outlineAreaM2(corners))}`}
        </span>
      </p>
      <p class={isGood ? '' : 'notice'}>
        {now === null
          ? noPositionText(whereabouts.value)
          : isGood
            ? `Position good to ${distanceText(now.errorM, units)}`
            : `Position only good to ${distanceText(now.errorM, units)}: wait`}
      </p>
      <FieldSketch
        outline={corners}
        isOpen={true}
        here={here === null || now === null ? null : { at: here, errorM: now.errorM }}
      />
      <button
        type="button"
        class="main wide tall"
        disabled={!isGood}
        onClick={() => here !== null && keep([...corners, here])}
      >
        Corner here
      </button>
      <div class="choices">
        <button type="button" aria-pressed={isTracking} onClick={() => keep(corners, !isTracking)}>
          Follow me
        </button>
        <button type="button" disabled={corners.length === 0} onClick={() => keep(corners.slice(0, -1))}>
          Take back
        </button>
        <button type="button" class="main" disabled={corners.length < 3} onClick={() => void end()}>
          Close the outline
        </button>
        <button type="button" onClick={onClose}>
          Back
        </button>
      </div>
      <p class="small">Follow me: a corner every {distanceText(STEP_M, units)}. Keep the screen on.</p>
    </>
  );
}

/** Asks the phone not to sleep while it follows; where it cannot be asked, the person must see to it. */
function useStayingOn(wanted: boolean): void {
  useEffect(() => {
    if (!wanted || !('wakeLock' in navigator)) return;
    let lock: WakeLockSentinel | null = null;
    let gone = false;
    navigator.wakeLock.request('screen').then(
      (made) => {
        lock = made;
        if (gone) void made.release();
      },
      () => undefined,
    );
    return () => {
      gone = true;
      void lock?.release();
    };
  }, [wanted]);
}
