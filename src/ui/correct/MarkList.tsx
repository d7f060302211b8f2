import { memo } from 'preact/compat';
import { useCallback, useEffect, useRef } from 'preact/hooks';
import { formatLength, type LengthSystem } from '../../core/units/formatLength.ts';
import type { Thing } from './gestures.ts';
import type { Mark } from './marks.ts';
import type { SceneReading } from './paintView.ts';
import { useAfterFrame } from './useAfterFrame.ts';

interface MarkListProps {
  readonly marks: readonly Mark[];
  readonly readings: readonly SceneReading[];
  readonly held: Thing | null;
  readonly units: LengthSystem;
  readonly onHold: (thing: Thing) => void;
}

/**
 * The marks as a list of buttons for the Tab key and for people who hear the page; the canvas shows which one has the
 * focus. In order along the row, then the readings of the reference. Nobody sees it, so it follows right after the frame
 * that shows an answer, and costs that frame nothing.
 */
export function MarkList(props: MarkListProps) {
  return <List {...useAfterFrame(props)} />;
}

const List = memo(function List({ marks, readings, held, units, onHold }: MarkListProps) {
  const list = useRef<HTMLDivElement>(null);
  const heldName = nameOf(held);
  const byTab = useRef(new Set<string>());
  // Focus that was in the list goes along with a mark taken in hand by an answer; never against a Tab key on its way.
  useEffect(() => {
    if (byTab.current.delete(heldName)) return;
    const inside = list.current?.contains(document.activeElement) ?? false;
    if (inside) list.current?.querySelector<HTMLElement>('[aria-pressed="true"]')?.focus();
  }, [heldName]);
  const latest = useRef(onHold);
  latest.current = onHold;
  const hold = useCallback((thing: Thing, isByTab: boolean) => {
    if (isByTab) byTab.current.add(nameOf(thing));
    latest.current(thing);
  }, []);
  return (
    <div class="cp-hidden" ref={list}>
      <h2>Marks along the row</h2>
      <ol>
        {marks.map((mark) => (
          <li key={`${mark.plant.id} ${mark.shape === 'gone'}`}>
            {mark.shape === 'gone' ? (
              mark.says
            ) : (
              <Held
                thing={{ plantId: mark.plant.id }}
                says={mark.says}
                is={nameOf({ plantId: mark.plant.id }) === heldName}
                onHold={hold}
              />
            )}
          </li>
        ))}
      </ol>
      <h2>Readings of the reference</h2>
      <ol>
        {readings.map(({ readingM, who }) => (
          <li key={readingM}>
            <Held
              thing={{ readingM }}
              says={`Reading ${formatLength(readingM, units)}${who === null ? '' : `, placed by ${who}`}`}
              is={nameOf({ readingM }) === heldName}
              onHold={hold}
            />
          </li>
        ))}
      </ol>
    </div>
  );
});

interface HeldProps {
  readonly thing: Thing;
  readonly says: string;
  /** Whether it is in hand. */
  readonly is: boolean;
  readonly onHold: (thing: Thing, isByTab: boolean) => void;
}

/** Named by a label: with 200 marks, text would be laid out anew at every answer though nobody sees it. */
const Held = memo(
  ({ thing, says, is, onHold }: HeldProps) => (
    <button
      type="button"
      aria-label={says}
      aria-pressed={is}
      onFocus={() => is || onHold(thing, true)}
      onClick={() => onHold(thing, false)}
    />
  ),
  (a, b) => a.says === b.says && a.is === b.is && nameOf(a.thing) === nameOf(b.thing),
);

function nameOf(thing: Thing | null): string {
  return thing === null ? '' : 'plantId' in thing ? `plant ${thing.plantId}` : `reading ${thing.readingM}`;
}
