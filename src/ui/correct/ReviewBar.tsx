import { formatLength, type LengthSystem } from '../../core/units/formatLength.ts';
import { unbroken } from '../parts/unbroken.ts';
import { ACTIONS, type Action } from './actions.ts';
import type { Wish } from './keys.ts';
import type { Mark } from './marks.ts';

interface ReviewBarProps {
  readonly mark: Mark | null;
  /** Marks nobody has looked at. */
  readonly left: number;
  /** Whether this mark can put the stand on one side of the floor. */
  readonly deciding: boolean;
  readonly reading: number | null;
  readonly placing: boolean;
  /** What undo would take back and redo bring back, by name. */
  readonly undo: string | null;
  readonly redo: string | null;
  readonly units: LengthSystem;
  readonly onAct: (wish: Action['wish']) => void;
  readonly onWish: (wish: Wish) => void;
}

/** The thumb's bar: what is in hand, six large answers, and the smaller tools above them. */
export function ReviewBar({
  mark,
  left,
  deciding,
  reading,
  placing,
  undo,
  redo,
  units,
  onAct,
  onWish,
}: ReviewBarProps) {
  return (
    <footer class="cp-bar">
      <p class="cp-hand">
        {placing ? (
          <>
            <b>A plant here?</b> Tap where it stands, or use the arrows, then Put.
          </>
        ) : reading !== null ? (
          <>
            <b>Reading {formatLength(reading, units)}</b> Drag it onto its place on the reference.
          </>
        ) : mark === null && left === 0 ? (
          <>
            <b>All marks are looked at</b> Done, or tap a mark or bare soil.
          </>
        ) : mark === null ? (
          <>
            <b>Nothing in hand</b> Tap a mark, or bare soil to add a plant.
          </>
        ) : (
          <>
            <b>{mark.says.split(', ')[0]}</b> {mark.says.split(', ').slice(1).join(', ')}
            {deciding && <em> It can decide the stand.</em>}
          </>
        )}
      </p>
      <p class="cp-hints" aria-hidden="true">
        B back · arrows move it · Shift ten times as far · Alt looks around · + − 0 nearer, farther, whole · Esc lets go
      </p>
      <fieldset class="cp-tools" aria-label="Tools">
        <Tool
          wish="undo"
          keyName="U"
          label={undo === null ? 'Undo' : unbroken(`Undo: ${undo}`)}
          off={undo === null}
          onWish={onWish}
          wide
        />
        <Tool
          wish="redo"
          keyName="R"
          label={redo === null ? 'Redo' : unbroken(`Redo: ${redo}`)}
          off={redo === null}
          onWish={onWish}
          wide
        />
        {placing ? (
          <Tool wish="put" keyName="Enter" label="Put" onWish={onWish} />
        ) : (
          <Tool wish="add" keyName="A" label="Add" onWish={onWish} />
        )}
        <Tool wish="merge" keyName="O" label="One plant" off={mark === null} onWish={onWish} />
        <Tool wish="other view" keyName="V" label="View" onWish={onWish} />
      </fieldset>
      <fieldset class="cp-actions" aria-label="What is this mark?">
        {ACTIONS.map((action) => (
          <button
            key={action.wish}
            type="button"
            class={`cp-action cp-${action.wish.replace(/ /g, '-')}`}
            aria-keyshortcuts={action.key}
            aria-disabled={action.wish === 'next' ? left === 0 : mark === null}
            onClick={() => onAct(action.wish)}
          >
            <span class="cp-sign" aria-hidden="true">
              {action.sign}
            </span>
            <span class="cp-label">{action.label(mark)}</span>
            <span class="cp-key" aria-hidden="true">
              {action.key}
            </span>
          </button>
        ))}
      </fieldset>
    </footer>
  );
}

interface ToolProps {
  readonly wish: Wish;
  readonly keyName: string;
  readonly label: string;
  readonly off?: boolean;
  readonly wide?: boolean;
  readonly onWish: (wish: Wish) => void;
}

function Tool({ wish, keyName, label, off = false, wide = false, onWish }: ToolProps) {
  return (
    <button
      type="button"
      class={`cp-tool${wide ? ' cp-wide' : ''}${wish === 'other view' ? ' cp-view-tool' : ''}`}
      aria-keyshortcuts={keyName}
      aria-disabled={off}
      onClick={() => onWish(wish)}
    >
      <span class="cp-label">{label}</span>
      <span class="cp-key" aria-hidden="true">
        {keyName}
      </span>
    </button>
  );
}
