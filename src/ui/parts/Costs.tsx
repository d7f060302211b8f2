import { useState } from 'preact/hooks';
import type { VisitDocument } from '../../core/visit/visitSchema.ts';
import { setParts } from '../edits/visitEdits.ts';
import { edit } from '../state/app.ts';
import { problemOf } from './problemOf.ts';
import { TextField } from './TextField.tsx';

type Economics = NonNullable<VisitDocument['economics']>;
type Key = 'fullYield' | 'price' | 'seed' | 'planting' | 'termination' | 'extraInputs';

const LINES: ReadonlyArray<readonly [Key, string, 'yield' | 'price' | 'money per area', string, string]> = [
  ['fullYield', 'Yield of a full stand', 'yield', '2,200 lb/ac', '2,500 kg/ha'],
  ['price', 'Price', 'price', '34/cwt', '0.75/kg'],
  ['seed', 'Seed to replant', 'money per area', '60/ac', '150/ha'],
  ['planting', 'Planting again', 'money per area', '20/ac', '50/ha'],
  ['termination', 'Ending this stand', 'money per area', '14/ac', '35/ha'],
  ['extraInputs', 'Other', 'money per area', '10/ac', '25/ha'],
];
type Typed = { readonly [key in Key]?: string | undefined };
const WANTED: readonly Key[] = ['fullYield', 'price', 'seed', 'planting'];

/** What the replant decision weighs. Nothing is reckoned until the first four are known. */
export function Costs({ visit }: { visit: VisitDocument }) {
  const [typed, setTyped] = useState<Typed>({ ...visit.economics });
  const put = (key: Key, text: string) => {
    const { [key]: _old, ...others } = typed;
    const next: Typed = text === '' ? others : { ...others, [key]: text };
    setTyped(next);
    if (WANTED.some((one) => (next[one] ?? '') === '')) return;
    const economics = { currency: '$', ...visit.economics, ...next } as Economics;
    void edit('visit', visit.id, setParts({ economics }));
  };
  const missing = WANTED.filter((key) => (typed[key] ?? '') === '');
  return (
    <section class="card">
      {LINES.map(([key, label, dimension, imperial, metric]) => (
        <TextField
          key={key}
          label={label}
          value={typed[key] ?? ''}
          problem={problemOf(dimension)}
          placeholder={visit.units === 'imperial' ? imperial : metric}
          onChange={(text) => put(key, text)}
        />
      ))}
      {missing.length > 0 && missing.length < WANTED.length && (
        <p class="small">Kept and reckoned once yield, price, seed and planting are all there.</p>
      )}
    </section>
  );
}
