import { useState } from 'preact/hooks';
import type { Json } from '../../core/sync/json.ts';
import { MARKET_CLASSES } from '../../core/targets/marketClass.ts';
import { fieldList } from '../edits/fieldList.ts';
import { NotHere } from '../parts/NotHere.tsx';
import { UNITS } from '../parts/PlantingFacts.tsx';
import { problemOf } from '../parts/problemOf.ts';
import { stopAtWrong } from '../parts/stopAtWrong.ts';
import { TextField } from '../parts/TextField.tsx';
import { edit, newId, rows, settings } from '../state/app.ts';
import { go } from '../state/route.ts';
import { today } from '../state/today.ts';

const BLANK = {
  farm: '',
  field: '',
  area: '',
  plantedOn: '',
  marketClass: '',
  rowWidth: '',
  seedDrop: '',
  seedSpacing: '',
};

/** A field and what was planted on it, or with `id` what was planted on a known field. What is not known can wait. */
export function NewFieldPage({ id = null }: { id?: string | null }) {
  const known = id === null ? undefined : fieldList(rows.value).find((entry) => entry.field.id === id);
  const before = known?.plantings[0]?.planting;
  const [typed, setTyped] = useState({ ...BLANK, rowWidth: before?.rowWidth ?? '' });
  if (id !== null && known === undefined) return <NotHere what="field" />;
  const set = (part: Partial<typeof BLANK>) => setTyped((now) => ({ ...now, ...part }));
  const missing = [
    ...(id === null && typed.field.trim() === '' ? ['its name'] : []),
    ...(typed.plantedOn === '' ? ['the planting day'] : []),
    ...(typed.marketClass.trim() === '' ? ['the market class'] : []),
  ];
  const { units } = settings.value;
  const imperial = units === 'imperial';
  const addField = async (): Promise<string> => {
    const farms = fieldList(rows.value).map((entry) => entry.farm);
    const farm = farms.find((one) => one.name === typed.farm.trim());
    const [farmId, fieldId] = [farm?.id ?? newId(), newId()];
    if (farm === undefined) {
      await edit('farm', farmId, () => ({
        schema: 'rowledger/farm@1',
        id: farmId,
        name: typed.farm.trim() || 'Own farm',
      }));
    }
    const field = given({ area: typed.area });
    await edit('field', fieldId, () => ({
      schema: 'rowledger/field@1',
      id: fieldId,
      farmId,
      name: typed.field.trim(),
      ...field,
    }));
    return fieldId;
  };
  const save = async () => {
    const [fieldId, plantingId] = [id ?? (await addField()), newId()];
    const { rowWidth, seedDrop, seedSpacing } = typed;
    const planting = given({ rowWidth, seedDrop, seedSpacing });
    await edit('planting', plantingId, () => ({
      schema: 'rowledger/planting@1',
      id: plantingId,
      fieldId,
      season: Number(typed.plantedOn.slice(0, 4)),
      plantedOn: typed.plantedOn,
      marketClass: typed.marketClass.trim(),
      ...planting,
    }));
    go('field', fieldId);
  };
  return (
    <>
      <h1>{known === undefined ? 'New field' : 'New planting'}</h1>
      {known !== undefined && <p class="small">{known.field.name}</p>}
      <form
        class="form"
        onSubmit={(event) => {
          event.preventDefault();
          if (missing.length === 0 && !stopAtWrong(event.currentTarget)) void save();
        }}
      >
        {known === undefined && (
          <>
            <TextField label="Field" value={typed.field} onChange={(field) => set({ field })} />
            <TextField label="Farm" value={typed.farm} onChange={(farm) => set({ farm })} list="farms" />
            <datalist id="farms">
              {[...new Set(fieldList(rows.value).map((entry) => entry.farm.name))].map((name) => (
                <option key={name} value={name} />
              ))}
            </datalist>
          </>
        )}
        <TextField
          label="Planted on"
          type="date"
          value={typed.plantedOn}
          onChange={(plantedOn) => set({ plantedOn })}
          problem={(day) => (day > today() ? 'That day is still to come' : null)}
        />
        <TextField
          label="Market class"
          value={typed.marketClass}
          onChange={(marketClass) => set({ marketClass })}
          list="classes"
        />
        <datalist id="classes">
          {MARKET_CLASSES.map((name) => (
            <option key={name} value={name} />
          ))}
        </datalist>
        <TextField
          label="Row width"
          value={typed.rowWidth}
          onChange={(rowWidth) => set({ rowWidth })}
          problem={problemOf('length')}
          unit={UNITS[units].length}
          placeholder={imperial ? '30 in' : '75 cm'}
        />
        {known === undefined && (
          <TextField
            label="Area"
            value={typed.area}
            onChange={(area) => set({ area })}
            problem={problemOf('area')}
            unit={UNITS[units].area}
            placeholder={imperial ? '80 ac' : '32 ha'}
          />
        )}
        <TextField
          label="Seed drop"
          value={typed.seedDrop}
          onChange={(seedDrop) => set({ seedDrop })}
          problem={problemOf('density')}
          unit={UNITS[units].density}
          placeholder={imperial ? '90,000 seeds/ac' : '220,000 seeds/ha'}
        />
        <TextField
          label="Seed spacing"
          value={typed.seedSpacing}
          onChange={(seedSpacing) => set({ seedSpacing })}
          problem={problemOf('length')}
          unit={UNITS[units].length}
          placeholder={imperial ? '3 in' : '8 cm'}
        />
        <button type="submit" class="main" disabled={missing.length > 0}>
          {known === undefined ? 'Add the field' : 'Add the planting'}
        </button>
        {missing.length > 0 && <p class="small">Still wanted: {missing.join(', ')}</p>}
      </form>
    </>
  );
}

function given(parts: Readonly<Record<string, string>>): { readonly [key: string]: Json } {
  return Object.fromEntries(Object.entries(parts).filter(([, value]) => value.trim() !== ''));
}
