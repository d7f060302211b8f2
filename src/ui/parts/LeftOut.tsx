import type { Correction } from '../../core/corrections/correction.ts';
import { describeChange } from '../../core/corrections/describeChange.ts';
import { type Deed, standingChanges } from '../../core/corrections/standingChanges.ts';
import { formatLength } from '../../core/units/formatLength.ts';
import type { VisitCount } from '../../core/visit/countSchema.ts';
import type { VisitDocument } from '../../core/visit/visitSchema.ts';
import { CARRIED_OVER, countAfterAll } from '../edits/visitEdits.ts';
import { edit, newId, nowIso, settings } from '../state/app.ts';
import { plural } from './plural.ts';

/** A count that counts no more, with what people said against it: nothing of that goes away. */
export function LeftOut({ visit, count, deed }: { visit: VisitDocument; count: VisitCount; deed: Deed }) {
  const own = (visit.corrections ?? []).filter((one) => one.countId === count.id);
  const { standing } = standingChanges(own as readonly Correction[]);
  const said = standing.filter(({ change }) => change.kind !== 'leave out');
  const plants = count.kind === 'photo' ? count.result.plants : [];
  const placeOf = (id: string) => {
    const alongM = plants.find((plant) => plant.id === id)?.alongM;
    return typeof alongM === 'number' ? formatLength(alongM, visit.units) : '';
  };
  return (
    <section>
      <p class="quiet">A count was left out: {deed.why ?? 'no reason given'}.</p>
      <button
        type="button"
        onClick={() => void edit('visit', visit.id, countAfterAll(newId(), settings.value.name, nowIso(), count.id))}
      >
        Count it after all
      </button>
      {said.length > 0 && (
        <details class="setup">
          <summary>{plural(said.length, 'correction')} of it</summary>
          <ul class="lines">
            {said.map((one) => (
              <li key={one.id}>
                {describeChange(one, visit.units, placeOf)},{' '}
                {visit.people.find((person) => person.id === one.by)?.name ?? one.by}
              </li>
            ))}
          </ul>
        </details>
      )}
    </section>
  );
}

/** That corrections of an older count of this photo hold here too, where any do. */
export function CarriedOver({ corrections }: { corrections: readonly Pick<Correction, 'why'>[] }) {
  const carried = corrections.filter(({ why }) => why === CARRIED_OVER).length;
  if (carried === 0) return null;
  return (
    <p class="notice">{plural(carried, 'correction')} carried over from the count before. Undo is under Correct.</p>
  );
}
