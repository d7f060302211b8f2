import { useState } from 'preact/hooks';
import type { VisitDocument } from '../../core/visit/visitSchema.ts';
import { setParts } from '../edits/visitEdits.ts';
import { AddEntry, EntryList } from '../parts/Entries.tsx';
import { TextField } from '../parts/TextField.tsx';
import { edit, newId } from '../state/app.ts';

type Spraying = NonNullable<VisitDocument['sprayings']>[number];
const HOUR_MS = 3_600_000;

/** What was sprayed and when the field may be walked again. The label has the last word. */
export function SprayNotes({ visit }: { visit: VisitDocument }) {
  const { sprayings } = visit;
  const [product, setProduct] = useState('');
  const [at, setAt] = useState('');
  const [hours, setHours] = useState('');
  const isWhole = product.trim() !== '' && at !== '' && (hours === '' || Number(hours) >= 0);
  const put = (next: readonly Spraying[]) => edit('visit', visit.id, setParts({ sprayings: [...next] }));
  const add = async () => {
    const made: Spraying = {
      id: `spraying-${newId().slice(0, 8)}`,
      at: new Date(at).toISOString(),
      product: product.trim(),
      ...(hours === '' ? {} : { reentryHours: Number(hours) }),
    };
    await put([...(sprayings ?? []), made]);
    setProduct('');
    setAt('');
    setHours('');
  };
  return (
    <>
      <p>The label says how long to stay out. Read it first.</p>
      {(sprayings ?? []).length === 0 && (
        <button type="button" class="wide" aria-pressed={sprayings !== undefined} onClick={() => void put([])}>
          Not sprayed
        </button>
      )}
      <EntryList
        entries={(sprayings ?? []).map((one) => ({
          id: one.id,
          says: (
            <>
              <strong>{one.product}</strong>, {new Date(one.at).toLocaleString()}
              {stillClosed(one) && <strong class="wrong"> {stillClosed(one)}</strong>}
            </>
          ),
          name: one.product,
          onRemove: () => void put((sprayings ?? []).filter((other) => other !== one)),
        }))}
      />
      <AddEntry what="spraying" isWhole={isWhole} onAdd={() => void add()}>
        <TextField label="Product" value={product} onChange={setProduct} />
        <label class="line">
          <span>Sprayed at</span>
          <input type="datetime-local" value={at} onInput={(event) => setAt(event.currentTarget.value)} />
        </label>
        <TextField
          label="Re-entry interval, hours"
          value={hours}
          number
          problem={(text) => (Number(text) >= 0 ? null : 'Wanted hours, such as 24')}
          onChange={setHours}
        />
      </AddEntry>
    </>
  );
}

function stillClosed({ at, reentryHours }: Spraying): string | null {
  if (reentryHours === undefined) return null;
  const left = reentryHours - (Date.now() - Date.parse(at)) / HOUR_MS;
  return left > 0 ? `Stay out: ${Math.ceil(left)} h left` : null;
}
