import type { LengthSystem } from '../../core/units/formatLength.ts';
import { problemOf } from '../parts/problemOf.ts';
import { TextField } from '../parts/TextField.tsx';

interface LengthBarProps {
  readonly points: number;
  readonly lengths: readonly string[];
  readonly ready: boolean;
  readonly units: LengthSystem;
  readonly onPut: () => void;
  readonly onTakeBack: () => void;
  readonly onWhole: () => void;
  readonly onLength: (index: number, text: string) => void;
  readonly onCount: () => void;
}

/** What the thumb does while a length is set: put a point under the cross, say how far apart, count. */
export function LengthBar(props: LengthBarProps) {
  const { points, lengths, ready, units } = props;
  return (
    <footer class="cp-bar cp-bar-length">
      <p class="cp-hand">{handText(points, ready)}</p>
      {points >= 2 && (
        <div class="cp-lengths">
          {Array.from({ length: points - 1 }, (_, i) => (
            <TextField
              key={`from ${i}`}
              label={`${i + 1} to ${i + 2}`}
              value={lengths[i] ?? ''}
              number
              unit={units === 'imperial' ? 'ft' : 'm'}
              placeholder={units === 'imperial' ? '10 ft' : '3 m'}
              problem={problemOf('length')}
              onChange={(text) => props.onLength(i, text)}
            />
          ))}
        </div>
      )}
      <fieldset class="cp-tools" aria-label="Tools">
        <button type="button" class="cp-tool" aria-keyshortcuts="Enter" onClick={props.onPut}>
          Point here
        </button>
        <button
          type="button"
          class="cp-tool"
          aria-keyshortcuts="U"
          aria-disabled={points === 0}
          onClick={props.onTakeBack}
        >
          Take back
        </button>
        <button type="button" class="cp-tool" aria-keyshortcuts="0" onClick={props.onWhole}>
          Whole photo
        </button>
      </fieldset>
      <button type="button" class="cp-action cp-keep cp-count-now" aria-disabled={!ready} onClick={props.onCount}>
        Count with this length
      </button>
    </footer>
  );
}

function handText(points: number, ready: boolean): string {
  if (points === 0) return 'Tap the first place, or bring it under the cross and put a point there.';
  if (points === 1) return 'Drag point 1 exactly onto its place. Then tap the far end: a long length is a sure one.';
  return ready ? 'More points between make it surer.' : 'How far apart are they?';
}
