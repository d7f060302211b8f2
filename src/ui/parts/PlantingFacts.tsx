import { formatDay } from '../../core/outlook/calendar.ts';
import type { Json } from '../../core/sync/json.ts';
import { isJsonObject } from '../../core/sync/json.ts';
import { MARKET_CLASSES } from '../../core/targets/marketClass.ts';
import type { VisitDocument } from '../../core/visit/visitSchema.ts';
import { given } from '../edits/given.ts';
import { edit, settings } from '../state/app.ts';
import { Choice } from './Choice.tsx';
import { problemOf } from './problemOf.ts';
import { TextField } from './TextField.tsx';

type Field = VisitDocument['field'];
type Planting = VisitDocument['planting'];
type Dimension = 'length' | 'density' | 'share' | 'area';

interface PlantingFactsProps {
  readonly farm: VisitDocument['farm'];
  readonly field: Field;
  readonly planting: Planting;
  readonly season: number;
  /** The visit that takes the change along; null: none is open. */
  readonly visit: string | null;
  /** The day of that visit, else today: nothing was planted after it. */
  readonly until: string;
}

const LINES: readonly (readonly [keyof Planting & string, string, Dimension, string, string])[] = [
  ['rowWidth', 'Row width', 'length', '30 in', '75 cm'],
  ['seedDrop', 'Seed drop', 'density', '90,000 seeds/ac', '220,000 seeds/ha'],
  ['seedSpacing', 'Seed spacing', 'length', '3 in', '8 cm'],
  ['depth', 'Depth', 'length', '2 in', '5 cm'],
  ['germination', 'Germination', 'share', '90 %', '90 %'],
  ['target', 'Own target', 'density', '75,000 plants/ac', '185,000 plants/ha'],
];
/** What a number typed alone is read in. */
export const UNITS = {
  imperial: { length: 'in', density: '/ac', share: '%', area: 'ac' },
  metric: { length: 'cm', density: '/ha', share: '%', area: 'ha' },
} as const;

/** What is known of a field and its planting. Changed here, it holds for the open visit and for later ones. */
export function PlantingFacts({ farm, field, planting, season, visit, until }: PlantingFactsProps) {
  const { units } = settings.value;
  // Only what was changed here, and on what stands there then: another hand may have changed the rest meanwhile.
  const inVisit = (key: 'farm' | 'field' | 'planting', change: object) => {
    if (visit === null) return;
    const changed = (own: Json) => given({ ...(own as { readonly [key: string]: object })[key], ...change });
    void edit('visit', visit, (own) => ({ ...(own as object), [key]: changed(own) }) as Json);
  };
  const putField = (change: { readonly [K in keyof Field]?: Field[K] | undefined }) => {
    void edit('field', field.id, (own) => given({ ...field, ...fieldOf(own, farm.id), ...change }) as Json);
    inVisit('field', change);
  };
  const putRegion = (region: string | undefined) => {
    const shared = { schema: 'rowledger/farm@1', ...farm };
    void edit('farm', farm.id, (own) => given({ ...shared, ...(own as object), region }) as Json);
    inVisit('farm', { region });
  };
  const putPlanting = (change: { readonly [K in keyof Planting]?: Planting[K] | undefined }) => {
    const shared = { schema: 'rowledger/planting@1', fieldId: field.id, season };
    void edit(
      'planting',
      planting.id,
      (own) => given({ ...shared, ...planting, ...(own as object), ...change }) as Json,
    );
    inVisit('planting', change);
  };
  const putDay = (plantedOn: string) => {
    putPlanting({ plantedOn });
    const year = Number(plantedOn.slice(0, 4));
    if (year === season) return;
    void edit('planting', planting.id, (own) => ({ ...(own as object), season: year }) as Json);
    if (visit !== null) void edit('visit', visit, (own) => ({ ...(own as object), season: year }) as Json);
  };
  return (
    <>
      <section class="card">
        <h2>Field</h2>
        <TextField label="Name" value={field.name} onChange={(name) => name.trim() !== '' && putField({ name })} />
        <TextField
          label="Area"
          value={field.area ?? ''}
          placeholder={units === 'imperial' ? '80 ac' : '32 ha'}
          problem={problemOf('area')}
          unit={UNITS[units].area}
          onChange={(text) => putField({ area: text === '' ? undefined : text })}
        />
        {farm.id !== '' && (
          <TextField
            label={`Region of ${farm.name || 'the farm'}`}
            value={farm.region ?? ''}
            placeholder="northern plains"
            onChange={(text) => putRegion(text.trim() === '' ? undefined : text)}
          />
        )}
        <Choice
          label="Insured"
          options={[
            ['yes', 'Yes'],
            ['no', 'No'],
          ]}
          value={field.insured === undefined ? null : field.insured ? 'yes' : 'no'}
          onChange={(next) => putField({ insured: next === null ? undefined : next === 'yes' })}
        />
      </section>
      <section class="card">
        <h2>Planting {season}</h2>
        <TextField
          label="Planted on"
          type="date"
          value={planting.plantedOn}
          onChange={(day) => day !== '' && putDay(day)}
          problem={(day) => (day > until ? `Wanted ${formatDay(until)} at the latest` : null)}
        />
        <TextField
          label="Market class"
          value={planting.marketClass}
          list="classes"
          onChange={(marketClass) => marketClass.trim() !== '' && putPlanting({ marketClass })}
        />
        <datalist id="classes">
          {MARKET_CLASSES.map((name) => (
            <option key={name} value={name} />
          ))}
        </datalist>
        <TextField
          label="Variety"
          value={planting.variety ?? ''}
          onChange={(variety) => putPlanting({ variety: variety === '' ? undefined : variety })}
        />
        <Choice
          label="Growth habit"
          options={[
            ['I', 'I bush'],
            ['II', 'II upright vine'],
            ['III', 'III flat vine'],
          ]}
          value={planting.growthHabit ?? null}
          onChange={(habit) => putPlanting({ growthHabit: habit ?? undefined })}
        />
        {LINES.map(([key, label, dimension, imperial, metric]) => (
          <TextField
            key={key}
            label={label}
            value={String(planting[key] ?? '')}
            placeholder={units === 'imperial' ? imperial : metric}
            problem={problemOf(dimension)}
            unit={UNITS[units][dimension]}
            onChange={(text) => putPlanting({ [key]: text === '' ? undefined : text })}
          />
        ))}
        <TextField
          label="Row units of the planter"
          value={planting.rowUnits?.toString() ?? ''}
          number
          placeholder="16"
          problem={(text) => (/^\d+$/.test(text) && Number(text) >= 1 && Number(text) <= 96 ? null : 'Wanted 1 to 96')}
          onChange={(text) => putPlanting({ rowUnits: text === '' ? undefined : Number(text) })}
        />
      </section>
    </>
  );
}

/** The field's own document; a field known only from visits gets one. */
export function fieldOf(own: Json, farmId: string): { readonly [key: string]: Json } {
  return isJsonObject(own) && own.schema !== undefined ? own : { schema: 'rowledger/field@1', farmId };
}
