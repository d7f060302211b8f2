import { useState } from 'preact/hooks';
import { MARKET_CLASSES } from '../../core/targets/marketClass.ts';
import { quantityIn } from '../../core/visit/quantity.ts';
import { NO_TARGETS, type OwnTarget, readTargets, type TargetsDocument } from '../../core/visit/targetsDocument.ts';
import { AddEntry, EntryList } from '../parts/Entries.tsx';
import { problemOf } from '../parts/problemOf.ts';
import { TextField } from '../parts/TextField.tsx';
import { changeTargets, newId, settings } from '../state/app.ts';
import { hrefOf } from '../state/route.ts';
import { ownTargets } from '../state/targets.ts';

const BLANK = { marketClass: '', from: '', to: '', low: '', high: '', ideal: '' };

/** The organisation's own target stands, asked before the table. Shared by everybody on its server. */
export function TargetsPage() {
  const document = ownTargets.value ?? NO_TARGETS;
  const [typed, setTyped] = useState(BLANK);
  const [says, setSays] = useState('');
  const set = (part: Partial<typeof BLANK>) => setTyped((now) => ({ ...now, ...part }));
  const imperial = settings.value.units === 'imperial';
  const [density, length] = imperial ? ['plants/ac', 'in'] : ['plants/ha', 'cm'];
  const save = async (change: (now: TargetsDocument) => TargetsDocument): Promise<boolean> => {
    const read = readTargets(change(document));
    setSays(read.ok ? '' : read.found);
    return read.ok && changeTargets(change);
  };
  const [low, high] = [quantityIn(typed.low, 'density'), quantityIn(typed.high, 'density')];
  const isWhole = typed.marketClass.trim() !== '' && low !== null && high !== null && low > 0 && high >= low;
  const add = async () => {
    const { from, to, ideal } = typed;
    const row: OwnTarget = {
      id: `own-${newId().slice(0, 8)}`,
      marketClass: typed.marketClass.trim(),
      of: 'plants',
      low: typed.low,
      high: typed.high,
      ...(ideal === '' ? {} : { ideal }),
      ...(from === '' && to === '' ? {} : { rowWidth: { from: from || to, to: to || from } }),
    };
    if (await save((now) => ({ ...now, rows: [...now.rows, row] }))) setTyped(BLANK);
  };
  return (
    <>
      <h1>Own targets</h1>
      <p class="small">Asked before the table, by everybody on this server.</p>
      <EntryList
        entries={document.rows.map((row) => ({
          id: row.id,
          says: (
            <>
              <strong>
                {row.low} to {row.high}
              </strong>{' '}
              {row.marketClass}
              {row.rowWidth !== undefined && `, rows ${row.rowWidth.from} to ${row.rowWidth.to}`}
              {row.ideal !== undefined && `, aim ${row.ideal}`}
            </>
          ),
          name: `${row.marketClass}, ${row.low}`,
          onRemove: () => void save((now) => ({ ...now, rows: now.rows.filter((one) => one.id !== row.id) })),
        }))}
      />
      <AddEntry what="target" isWhole={isWhole} onAdd={() => void add()}>
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
        <div class="two">
          <TextField
            label={`Least, ${density}`}
            value={typed.low}
            number
            unit={density}
            problem={problemOf('density')}
            onChange={(text) => set({ low: text })}
          />
          <TextField
            label={`Most, ${density}`}
            value={typed.high}
            number
            unit={density}
            problem={problemOf('density')}
            onChange={(text) => set({ high: text })}
          />
        </div>
        <TextField
          label={`Aim, ${density} (else the middle)`}
          value={typed.ideal}
          number
          unit={density}
          problem={problemOf('density')}
          onChange={(ideal) => set({ ideal })}
        />
        <div class="two">
          <TextField
            label={`Rows from, ${length}`}
            value={typed.from}
            number
            unit={length}
            placeholder="any width"
            problem={problemOf('length')}
            onChange={(from) => set({ from })}
          />
          <TextField
            label={`Rows to, ${length}`}
            value={typed.to}
            number
            unit={length}
            placeholder="any width"
            problem={problemOf('length')}
            onChange={(to) => set({ to })}
          />
        </div>
      </AddEntry>
      <p role="status" class={says === '' ? '' : 'wrong'}>
        {says}
      </p>
      <a class="button wide" href={hrefOf('settings')}>
        Back to settings
      </a>
    </>
  );
}
