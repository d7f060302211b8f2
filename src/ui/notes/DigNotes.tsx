import { formatDay } from '../../core/outlook/calendar.ts';
import type { VisitDocument } from '../../core/visit/visitSchema.ts';
import { type DigCheck, putDigCheck, setParts } from '../edits/visitEdits.ts';
import { Choice } from '../parts/Choice.tsx';
import { wordFor } from '../parts/plural.ts';
import { Stepper } from '../parts/Stepper.tsx';
import { edit, newId } from '../state/app.ts';

const DUG = [
  ['sprouting', 'Sprouting'],
  ['hard', 'Hard, not swollen'],
  ['rotted', 'Rotted'],
  ['eaten', 'Eaten'],
  ['notFound', 'Nothing there'],
] as const;

/** Seeds dug up where nothing came up. */
export function DigNotes({ visit }: { visit: VisitDocument }) {
  const add = () => {
    const none = { sprouting: 0, hard: 0, rotted: 0, eaten: 0, notFound: 0 };
    return edit('visit', visit.id, putDigCheck({ id: `dig-${newId().slice(0, 8)}`, on: visit.visitedOn, ...none }));
  };
  return (
    <>
      {(visit.digChecks ?? []).map((dig) => (
        <DigCard key={dig.id} visit={visit} dig={dig} />
      ))}
      <button type="button" class="wide" onClick={() => void add()}>
        Add a dig
      </button>
    </>
  );
}

function DigCard({ visit, dig }: { visit: VisitDocument; dig: DigCheck }) {
  const places = DUG.reduce((sum, [what]) => sum + dig[what], 0);
  const put = (next: DigCheck) => void edit('visit', visit.id, putDigCheck(next));
  return (
    <section class="card">
      <p>
        <strong>{places}</strong> {wordFor(places, 'place')} dug, {formatDay(dig.on)}
      </p>
      {DUG.map(([what, label]) => (
        <Stepper key={what} label={label} value={dig[what]} onChange={(n) => put({ ...dig, [what]: n })} />
      ))}
      {(visit.zones ?? []).length > 0 && (
        <Choice
          label="Dug in zone"
          options={(visit.zones ?? []).map((zone) => [zone.id, zone.name] as const)}
          value={dig.zoneId ?? null}
          onChange={(zoneId) => {
            const { zoneId: _old, ...rest } = dig;
            put(zoneId === null ? rest : { ...rest, zoneId });
          }}
        />
      )}
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
