import { parseVegetativeStage } from '../../core/damage/growthStage.ts';
import { formatDay } from '../../core/outlook/calendar.ts';
import type { VisitDamage, VisitDocument } from '../../core/visit/visitSchema.ts';
import { given } from '../edits/given.ts';
import { putDamage, setParts } from '../edits/visitEdits.ts';
import { Choice } from '../parts/Choice.tsx';
import { wordFor } from '../parts/plural.ts';
import { problemOf } from '../parts/problemOf.ts';
import { Stepper } from '../parts/Stepper.tsx';
import { TextField } from '../parts/TextField.tsx';
import { edit, newId } from '../state/app.ts';
import { hrefOf } from '../state/route.ts';
import { seenPlants } from './findings.ts';

const HAZARDS = ['frost', 'hail', 'wind', 'sand', 'feeding', 'flooding', 'herbicide', 'crust', 'other'] as const;

const STATES = [
  ['growing', 'Growing point green'],
  ['budsAlive', 'Tip gone, a bud green'],
  ['doubtful', 'Cannot tell'],
  ['dead', 'Dead, or cut below the cotyledons'],
] as const;

const NOBODY = { growing: 0, budsAlive: 0, doubtful: 0, dead: 0 };

/** Hurt plants by growing point, one card for each thing that happened. */
export function DamageNotes({ visit }: { visit: VisitDocument }) {
  const add = (hazard: VisitDamage['hazard']) =>
    edit(
      'visit',
      visit.id,
      putDamage({ id: `damage-${newId().slice(0, 8)}`, hazard, happenedOn: visit.visitedOn, plants: NOBODY }),
    );
  return (
    <>
      {(visit.damage ?? []).map((damage) => (
        <DamageCard key={damage.id} visit={visit} damage={damage} />
      ))}
      <fieldset class="choice">
        <legend>Add damage by</legend>
        {HAZARDS.map((hazard) => (
          <button type="button" key={hazard} onClick={() => void add(hazard)}>
            {hazard}
          </button>
        ))}
      </fieldset>
    </>
  );
}

function DamageCard({ visit, damage }: { visit: VisitDocument; damage: VisitDamage }) {
  const put = (change: { readonly [K in keyof VisitDamage]?: VisitDamage[K] | undefined }) =>
    void edit('visit', visit.id, putDamage(given<VisitDamage>({ ...damage, ...change } as VisitDamage) as VisitDamage));
  const plants = damage.plants ?? NOBODY;
  const judged = plants.growing + plants.budsAlive + plants.doubtful + plants.dead;
  const seen = seenPlants(damage);
  const imperial = visit.units === 'imperial';
  const degree = imperial ? 'F' : 'C';
  return (
    <section class="card" aria-label={damage.hazard}>
      <h2>{damage.hazard}</h2>
      <TextField
        label="Happened on"
        type="date"
        value={damage.happenedOn}
        problem={(day) => (day > visit.visitedOn ? `After the visit of ${formatDay(visit.visitedOn)}` : null)}
        onChange={(happenedOn) => void (happenedOn !== '' && put({ happenedOn }))}
      />
      <p>
        <strong>{judged + seen}</strong> {wordFor(judged + seen, 'plant')} looked at, one by one as they come
      </p>
      <a class="button main wide" href={hrefOf('visit', visit.id, 'notes', 'damage', damage.id)}>
        Plant by plant{seen > 0 && `: ${seen}`}
      </a>
      {STATES.map(([state, label]) => (
        <Stepper
          key={state}
          label={label}
          value={plants[state]}
          onChange={(n) => put({ plants: { ...plants, [state]: n } })}
        />
      ))}
      {(visit.zones ?? []).length > 0 && (
        <Choice
          label="Only in zone"
          options={(visit.zones ?? []).map((zone) => [zone.id, zone.name] as const)}
          value={damage.zoneId ?? null}
          onChange={(zoneId) => put({ zoneId: zoneId ?? undefined })}
        />
      )}
      <details class="setup">
        <summary>Stage, leaves, frost</summary>
        <div class="two">
          <TextField
            label="Growth stage"
            value={damage.stage?.code ?? ''}
            placeholder="V2"
            problem={(code) =>
              parseVegetativeStage(code, 'trifoliolate') === null && !/^R\d$/i.test(code.trim())
                ? 'Wanted VE, VC, V1, V2 or R1'
                : null
            }
            onChange={(code) =>
              put({
                stage: code === '' ? undefined : { code, convention: damage.stage?.convention ?? 'trifoliolate' },
              })
            }
          />
          <TextField
            label="Leaf area lost"
            value={damage.leafLost ?? ''}
            placeholder="40 %"
            problem={problemOf('share')}
            unit="%"
            onChange={(text) => put({ leafLost: text === '' ? undefined : text })}
          />
        </div>
        {damage.stage !== undefined && (
          <Choice
            label="V1 is"
            options={[
              ['trifoliolate', 'the first trifoliate leaf'],
              ['node', 'the first true-leaf node'],
            ]}
            value={damage.stage.convention}
            onChange={(convention) => convention !== null && put({ stage: { code: damage.stage!.code, convention } })}
          />
        )}
        {damage.hazard === 'frost' && (
          <div class="two">
            <TextField
              label="Lowest air temperature"
              value={damage.minimum ?? ''}
              placeholder={imperial ? '27 F' : '-3 C'}
              problem={problemOf('temperature')}
              unit={degree}
              onChange={(text) => put({ minimum: text === '' ? undefined : text })}
            />
            <TextField
              label={`Hours below ${imperial ? '28.4 F' : '-2 C'}`}
              value={damage.hoursBelowMinus2C?.toString() ?? ''}
              problem={(text) => (Number(text) >= 0 ? null : 'Wanted hours, such as 3')}
              onChange={(text) => put({ hoursBelowMinus2C: text === '' ? undefined : Number(text) })}
            />
          </div>
        )}
        <TextField
          label="Note"
          value={damage.note ?? ''}
          onChange={(note) => put({ note: note === '' ? undefined : note })}
        />
      </details>
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
