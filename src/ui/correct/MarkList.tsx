import { useEffect, useRef } from 'preact/hooks';
import { formatLength, type LengthSystem } from '../../core/units/formatLength.ts';
import type { Thing } from './gestures.ts';
import type { Mark } from './marks.ts';
import type { SceneReading } from './paintView.ts';

interface MarkListProps {
  readonly marks: readonly Mark[];
  readonly readings: readonly SceneReading[];
  readonly held: Thing | null;
  readonly units: LengthSystem;
  readonly onHold: (thing: Thing) => void;
}

/**
 * The marks as a list of buttons for the Tab key and for people who hear the page; the canvas shows which one has the
 * focus. In order along the row, then the readings of the reference.
 */
export function MarkList({ marks, readings, held, units, onHold }: MarkListProps) {
  const list = useRef<HTMLDivElement>(null);
  const heldName = nameOf(held);
  const byTab = useRef(new Set<string>());
  // Focus that was in the list goes along with a mark taken in hand by an answer; never against a Tab key on its way.
  useEffect(() => {
    if (byTab.current.delete(heldName)) return;
    const inside = list.current?.contains(document.activeElement) ?? false;
    if (inside) list.current?.querySelector<HTMLElement>('[aria-pressed="true"]')?.focus();
  }, [heldName]);
  const holdByTab = (thing: Thing) => {
    byTab.current.add(nameOf(thing));
    onHold(thing);
  };
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
                heldName={heldName}
                onHold={onHold}
                onTab={holdByTab}
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
              heldName={heldName}
              onHold={onHold}
              onTab={holdByTab}
            />
          </li>
        ))}
      </ol>
    </div>
  );
}

interface HeldProps {
  readonly thing: Thing;
  readonly says: string;
  readonly heldName: string;
  readonly onHold: (thing: Thing) => void;
  readonly onTab: (thing: Thing) => void;
}

function Held({ thing, says, heldName, onHold, onTab }: HeldProps) {
  const is = nameOf(thing) === heldName;
  return (
    <button type="button" aria-pressed={is} onFocus={() => is || onTab(thing)} onClick={() => onHold(thing)}>
      {says}
    </button>
  );
}

function nameOf(thing: Thing | null): string {
  return thing === null ? '' : 'plantId' in thing ? `plant ${thing.plantId}` : `reading ${thing.readingM}`;
}
