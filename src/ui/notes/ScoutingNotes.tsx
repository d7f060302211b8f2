import { assessScouting } from '../../core/visit/assessScouting.ts';
import type { VisitDocument } from '../../core/visit/visitSchema.ts';
import { given } from '../edits/given.ts';
import { setParts } from '../edits/visitEdits.ts';
import { problemOf } from '../parts/problemOf.ts';
import { Stepper } from '../parts/Stepper.tsx';
import { TextField } from '../parts/TextField.tsx';
import { edit } from '../state/app.ts';

type Scouting = NonNullable<VisitDocument['scouting']>;
type Cutworm = NonNullable<Scouting['cutworm']>;

/** What was met that has a threshold of its own: cutworms, plants lost to the hoe, salt. */
export function ScoutingNotes({ visit }: { visit: VisitDocument }) {
  const scouting = visit.scouting ?? {};
  const put = (change: { readonly [K in keyof Scouting]: Scouting[K] | undefined }) =>
    void edit('visit', visit.id, setParts({ scouting: given<Scouting>({ ...scouting, ...change }) }));
  const imperial = visit.units === 'imperial';
  const unit = imperial ? 'ft' : 'm';
  const { cutworm } = scouting;
  const found = (change: Partial<Cutworm>) =>
    put({ cutworm: { larvae: 0, rowLength: imperial ? '10 ft' : '3 m', ...cutworm, ...change } });
  const share = problemOf('share');
  return (
    <>
      {assessScouting(visit).map((reading) => (
        <p key={reading.says} class={reading.reached ? 'notice' : ''} aria-live="polite">
          {reading.says}
        </p>
      ))}
      <section class="card">
        <h2>Cutworms</h2>
        <Stepper label="Larvae found" value={cutworm?.larvae ?? 0} onChange={(larvae) => found({ larvae })} />
        <div class="two">
          <TextField
            label="In row of"
            value={cutworm?.rowLength ?? ''}
            placeholder={imperial ? '10 ft' : '3 m'}
            problem={problemOf('length')}
            unit={unit}
            onChange={(text) => text !== '' && found({ rowLength: text })}
          />
          <TextField
            label="Plants cut"
            value={cutworm?.plantsCut ?? ''}
            placeholder="5 %"
            problem={share}
            unit="%"
            onChange={(text) => text !== '' && found({ plantsCut: text })}
          />
        </div>
        {cutworm !== undefined && (
          <button type="button" onClick={() => put({ cutworm: undefined })}>
            Remove
          </button>
        )}
      </section>
      <section class="card">
        <TextField
          label="Plants lost to the rotary hoe"
          value={scouting.hoeLoss ?? ''}
          placeholder="4 %"
          problem={share}
          unit="%"
          onChange={(text) => put({ hoeLoss: text === '' ? undefined : text })}
        />
        <TextField
          label="Soil salt, dS/m"
          value={scouting.salinityDsPerM?.toString() ?? ''}
          number
          placeholder="1.2"
          problem={(text) => (Number(text) >= 0 && Number(text) <= 100 ? null : 'Wanted dS/m, 0 to 100')}
          onChange={(text) => put({ salinityDsPerM: text === '' ? undefined : Number(text) })}
        />
      </section>
    </>
  );
}
