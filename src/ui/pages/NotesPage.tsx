import { formatDay } from '../../core/outlook/calendar.ts';
import type { VisitDamage, VisitDocument } from '../../core/visit/visitSchema.ts';
import { type DigCheck, putDamage, putDigCheck, setParts } from '../edits/visitEdits.ts';
import { Costs } from '../parts/Costs.tsx';
import { Stepper } from '../parts/Stepper.tsx';
import { TextField } from '../parts/TextField.tsx';
import { useVisit } from '../parts/useVisit.ts';
import { edit, newId } from '../state/app.ts';
import { hrefOf } from '../state/route.ts';

const HAZARDS = ['frost', 'hail', 'wind', 'sand', 'feeding', 'flooding', 'herbicide', 'crust', 'other'] as const;

const STATES = [
  ['growing', 'Growing point green'],
  ['budsAlive', 'Tip gone, a bud green'],
  ['doubtful', 'Cannot tell'],
  ['dead', 'Dead, or cut below the cotyledons'],
] as const;

const DUG = [
  ['sprouting', 'Sprouting'],
  ['hard', 'Hard, not swollen'],
  ['rotted', 'Rotted'],
  ['eaten', 'Eaten'],
  ['notFound', 'Nothing there'],
] as const;

/** What else was seen: hurt plants by growing point, seeds dug up, and what things cost. */
export function NotesPage({ id }: { id: string }) {
  const shown = useVisit(id);
  if (shown === null) return <p class="quiet">Opening</p>;
  if (shown === 'none') return <p class="quiet">This visit is not on this device.</p>;
  const { visit } = shown;
  const addDamage = (hazard: VisitDamage['hazard']) =>
    edit(
      'visit',
      id,
      putDamage({
        id: `damage-${newId().slice(0, 8)}`,
        hazard,
        happenedOn: visit.visitedOn,
        plants: { growing: 0, budsAlive: 0, doubtful: 0, dead: 0 },
      }),
    );
  const addDig = () => {
    const none = { sprouting: 0, hard: 0, rotted: 0, eaten: 0, notFound: 0 };
    return edit('visit', id, putDigCheck({ id: `dig-${newId().slice(0, 8)}`, on: visit.visitedOn, ...none }));
  };
  return (
    <>
      <h1>{visit.field.name}: what else</h1>
      <h2>Damage</h2>
      {(visit.damage ?? []).map((damage) => (
        <DamageCard key={damage.id} visit={visit} damage={damage} />
      ))}
      <label class="line">
        <span>Add damage by</span>
        <select
          value=""
          onChange={(event) => {
            void addDamage(event.currentTarget.value as VisitDamage['hazard']);
            event.currentTarget.value = '';
          }}
        >
          <option value="">Choose the cause</option>
          {HAZARDS.map((hazard) => (
            <option key={hazard}>{hazard}</option>
          ))}
        </select>
      </label>
      <h2>Dug where nothing came up</h2>
      {(visit.digChecks ?? []).map((dig) => (
        <DigCard key={dig.id} visit={visit} dig={dig} />
      ))}
      <button type="button" onClick={() => void addDig()}>
        Add a dig
      </button>
      <h2>Costs</h2>
      <Costs visit={visit} />
      <a class="button main" href={hrefOf('visit', id)}>
        Back to the walk
      </a>
    </>
  );
}

function DamageCard({ visit, damage }: { visit: VisitDocument; damage: VisitDamage }) {
  const put = (change: Partial<VisitDamage>) => void edit('visit', visit.id, putDamage({ ...damage, ...change }));
  const plants = damage.plants ?? { growing: 0, budsAlive: 0, doubtful: 0, dead: 0 };
  const judged = plants.growing + plants.budsAlive + plants.doubtful + plants.dead;
  return (
    <section class="card">
      <div class="two">
        <label class="line">
          <span>Cause</span>
          <select
            value={damage.hazard}
            onChange={(event) => put({ hazard: event.currentTarget.value as VisitDamage['hazard'] })}
          >
            {HAZARDS.map((hazard) => (
              <option key={hazard}>{hazard}</option>
            ))}
          </select>
        </label>
        <TextField
          label="Happened on"
          type="date"
          value={damage.happenedOn}
          problem={(day) => (day > visit.visitedOn ? `After the visit of ${formatDay(visit.visitedOn)}` : null)}
          onChange={(happenedOn) => void (happenedOn !== '' && put({ happenedOn }))}
        />
      </div>
      <p>
        <strong>{judged}</strong> plants looked at, one by one as they come
      </p>
      {STATES.map(([state, label]) => (
        <Stepper
          key={state}
          label={label}
          value={plants[state]}
          onChange={(n) => put({ plants: { ...plants, [state]: n } })}
        />
      ))}
      <button
        type="button"
        onClick={() =>
          void edit('visit', visit.id, setParts({ damage: (visit.damage ?? []).filter((one) => one.id !== damage.id) }))
        }
      >
        Remove this damage
      </button>
    </section>
  );
}

function DigCard({ visit, dig }: { visit: VisitDocument; dig: DigCheck }) {
  return (
    <section class="card">
      <p>
        <strong>{DUG.reduce((sum, [what]) => sum + dig[what], 0)}</strong> places dug, {formatDay(dig.on)}
      </p>
      {DUG.map(([what, label]) => (
        <Stepper
          key={what}
          label={label}
          value={dig[what]}
          onChange={(n) => void edit('visit', visit.id, putDigCheck({ ...dig, [what]: n }))}
        />
      ))}
      <button
        type="button"
        onClick={() =>
          void edit(
            'visit',
            visit.id,
            setParts({ digChecks: (visit.digChecks ?? []).filter((one) => one.id !== dig.id) }),
          )
        }
      >
        Remove this dig
      </button>
    </section>
  );
}
