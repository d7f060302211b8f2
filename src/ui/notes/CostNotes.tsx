import { useRef, useState } from 'preact/hooks';
import type { VisitDocument } from '../../core/visit/visitSchema.ts';
import { given } from '../edits/given.ts';
import { setParts } from '../edits/visitEdits.ts';
import { problemOf } from '../parts/problemOf.ts';
import { TextField } from '../parts/TextField.tsx';
import { edit, saveSettings, settings } from '../state/app.ts';

type Economics = NonNullable<VisitDocument['economics']>;
type Key = keyof Economics;
type Line = readonly [Key, string, 'yield' | 'price' | 'money per area' | 'share', string, string];

const LINES: readonly Line[] = [
  ['fullYield', 'Yield of a full stand', 'yield', '2,200 lb/ac', '2,500 kg/ha'],
  ['price', 'Price', 'price', '34/cwt', '0.75/kg'],
  ['seed', 'Seed to replant', 'money per area', '60/ac', '150/ha'],
  ['planting', 'Planting again', 'money per area', '20/ac', '50/ha'],
];
const MORE: readonly Line[] = [
  ['termination', 'Ending this stand', 'money per area', '14/ac', '35/ha'],
  ['extraInputs', 'Spray, fertilizer again', 'money per area', '10/ac', '25/ha'],
  ['drying', 'Later harvest, drying', 'money per area', '5/ac', '12/ha'],
  ['credit', 'Paid back (seed, insurance)', 'money per area', '15/ac', '40/ha'],
];
const DAYS: readonly (readonly [Key, string])[] = [
  ['replantOn', 'Would replant on'],
  ['lastReplantOn', 'Last day to replant'],
  ['insuredUntil', 'Full insurance cover until'],
  ['noLossUntil', 'No loss if planted until'],
];
/** Numbers typed alone are read in the unit of the example; those without one, as money an area. */
const UNITS = { imperial: ['lb/ac', '/cwt', '/ac'], metric: ['kg/ha', '/kg', '/ha'] } as const;

type Typed = { readonly [K in Key]?: string | undefined };
const WANTED: readonly Key[] = ['fullYield', 'price', 'seed', 'planting'];

/** What the replant decision weighs. Nothing is reckoned until the first four are known. */
export function CostNotes({ visit }: { visit: VisitDocument }) {
  const { costs, costsBegun } = settings.value;
  const [typed, setTyped] = useState<Typed>({
    ...visit.economics,
    ...(costsBegun?.visit === visit.id ? costsBegun.typed : {}),
  });
  // Fingers can be faster than the page is drawn: what comes next goes on from the last key, not from what is drawn.
  const latest = useRef(typed);
  const take = (next: Typed) => {
    latest.current = next;
    setTyped(next);
    if (WANTED.some((one) => (next[one] ?? '') === '')) {
      void saveSettings({ costsBegun: { visit: visit.id, typed: given(next) as Record<string, string> } });
      return;
    }
    const economics = given<Economics>({ currency: '$', ...next } as Economics) as Economics;
    void edit('visit', visit.id, setParts({ economics }));
    // Days belong to one season; the rest is as good a first guess for the next field.
    const { replantOn: _a, lastReplantOn: _b, insuredUntil: _c, noLossUntil: _d, ...lasting } = economics;
    void saveSettings({ costs: lasting, costsBegun: null });
  };
  const put = (key: Key, text: string) => take({ ...latest.current, [key]: text === '' ? undefined : text });
  const [yieldUnit, priceUnit, areaUnit] = UNITS[visit.units];
  const unitOf = { yield: yieldUnit, price: priceUnit, 'money per area': areaUnit, share: '%' } as const;
  const line = ([key, label, dimension, imperial, metric]: Line) => (
    <TextField
      key={key}
      label={label}
      value={typed[key] ?? ''}
      problem={problemOf(dimension)}
      unit={unitOf[dimension]}
      placeholder={visit.units === 'imperial' ? imperial : metric}
      onChange={(text) => put(key, text)}
    />
  );
  const missing = WANTED.filter((key) => (typed[key] ?? '') === '');
  return (
    <>
      {visit.economics === undefined && costs !== null && (
        <button type="button" class="wide" onClick={() => take({ ...costs, ...given<Typed>(latest.current) })}>
          As last time: <strong>{costs.price}</strong>, seed <strong>{costs.seed}</strong>
        </button>
      )}
      <section class="card">
        {LINES.map(line)}
        {missing.length > 0 && missing.length < WANTED.length && (
          <p class="notice">Reckoned once yield, price, seed and planting are all there.</p>
        )}
        <details class="setup">
          <summary>Other costs and days</summary>
          {MORE.map(line)}
          {DAYS.map(([key, label]) => (
            <TextField key={key} label={label} type="date" value={typed[key] ?? ''} onChange={(day) => put(key, day)} />
          ))}
          {typed.noLossUntil !== undefined && line(['lossPerDay', 'Yield lost each day after', 'share', '1 %', '1 %'])}
          <TextField
            label="Currency"
            value={typed.currency ?? '$'}
            onChange={(text) => text.trim() !== '' && put('currency', text.trim())}
          />
        </details>
      </section>
    </>
  );
}
