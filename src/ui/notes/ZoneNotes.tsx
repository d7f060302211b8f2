import { useState } from 'preact/hooks';
import { SQUARE_METRES_PER_ACRE, SQUARE_METRES_PER_HECTARE } from '../../core/units/conversions.ts';
import { formatNumber } from '../../core/units/formatNumber.ts';
import { quantityIn } from '../../core/visit/quantity.ts';
import type { VisitDocument } from '../../core/visit/visitSchema.ts';
import { putZone, removeZone, type Zone } from '../edits/noteEdits.ts';
import { AddEntry } from '../parts/Entries.tsx';
import { plural } from '../parts/plural.ts';
import { problemOf } from '../parts/problemOf.ts';
import { SpotZone } from '../parts/SpotZone.tsx';
import { TextField } from '../parts/TextField.tsx';
import { edit, newId } from '../state/app.ts';

const NAMES = ['Knoll', 'Headland', 'Low ground', 'Slope'] as const;
const REST = 'The rest';

/** Parts of the field that differ, with their ground, and which spots lie in which. */
export function ZoneNotes({ visit }: { visit: VisitDocument }) {
  const zones = visit.zones ?? [];
  const [name, setName] = useState('');
  const [area, setArea] = useState('');
  const unit = visit.units === 'imperial' ? 'ac' : 'ha';
  const isWhole = name.trim() !== '' && area !== '' && problemOf('area')(area) === null;
  const left = groundLeft(visit);
  const add = async (zone: Omit<Zone, 'id'>) => {
    await edit('visit', visit.id, putZone({ id: `zone-${newId().slice(0, 8)}`, ...zone }));
    setName('');
    setArea('');
  };
  return (
    <>
      <p class="small">A zone is weighed by its ground. Each needs a spot; together they make the field.</p>
      {zones.map((zone) => (
        <section class="card" key={zone.id} aria-label={zone.name}>
          <h2>
            {zone.name}, {plural(visit.spots.filter((spot) => spot.zoneId === zone.id).length, 'spot')}
          </h2>
          <TextField
            label={`Area of ${zone.name}`}
            value={zone.area}
            problem={problemOf('area')}
            unit={unit}
            onChange={(text) => void (text !== '' && edit('visit', visit.id, putZone({ ...zone, area: text })))}
          />
          <button type="button" onClick={() => void edit('visit', visit.id, removeZone(zone.id))}>
            Remove {zone.name}
          </button>
        </section>
      ))}
      {zones.length > 0 && left !== null && (
        <button type="button" class="wide" onClick={() => void add({ name: REST, area: left })}>
          {REST}: <strong>{left}</strong>
        </button>
      )}
      {zones.length > 0 && visit.spots.length > 0 && (
        <section>
          <h2>Where each spot lies</h2>
          {visit.spots.map((spot, i) => (
            <SpotZone key={spot.id} visit={visit} spot={spot} label={`Spot ${i + 1}`} />
          ))}
        </section>
      )}
      <AddEntry what="zone" isWhole={isWhole} onAdd={() => void add({ name: name.trim(), area })}>
        <fieldset class="choice">
          <legend>Kind</legend>
          {NAMES.map((one) => (
            <button type="button" key={one} aria-pressed={name === one} onClick={() => setName(one)}>
              {one}
            </button>
          ))}
        </fieldset>
        <TextField label="Name" value={name} onChange={setName} />
        <TextField
          label="Area"
          value={area}
          number
          placeholder={unit === 'ac' ? '4 ac' : '1.5 ha'}
          problem={problemOf('area')}
          unit={unit}
          onChange={setArea}
        />
      </AddEntry>
    </>
  );
}

/** The field's ground that no zone covers yet, in the units of the visit; null where none is left or nothing is known. */
function groundLeft(visit: VisitDocument): string | null {
  const field = quantityIn(visit.field.area, 'area');
  const zones = visit.zones ?? [];
  if (field === null || zones.some((zone) => zone.name === REST)) return null;
  const leftM2 = zones.reduce((sum, zone) => sum - (quantityIn(zone.area, 'area') ?? 0), field);
  const [unit, unitM2] =
    visit.units === 'imperial' ? ['ac', SQUARE_METRES_PER_ACRE] : ['ha', SQUARE_METRES_PER_HECTARE];
  const left = leftM2 / Number(unitM2);
  return left < 0.05 ? null : `${formatNumber(left, 1)} ${unit}`;
}
