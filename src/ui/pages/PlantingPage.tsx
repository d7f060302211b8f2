import { fieldList } from '../edits/fieldList.ts';
import { NotHere } from '../parts/NotHere.tsx';
import { PlantingFacts } from '../parts/PlantingFacts.tsx';
import { rows } from '../state/app.ts';
import { hrefOf } from '../state/route.ts';
import { today } from '../state/today.ts';

/** What is known of a field and one of its plantings; a visit of today takes changes along. */
export function PlantingPage({ id, planting: plantingId }: { id: string; planting: string }) {
  const entry = fieldList(rows.value).find((one) => one.field.id === id);
  const one = entry?.plantings.find(({ planting }) => planting.id === plantingId);
  if (entry === undefined || one === undefined) return <NotHere what="planting" />;
  const open = entry.visits.find((visit) => visit.visitedOn === today() && visit.planting === plantingId);
  return (
    <>
      <h1>Field and planting</h1>
      <PlantingFacts
        farm={entry.farm}
        field={entry.field}
        planting={one.planting}
        season={one.season}
        visit={open?.id ?? null}
        until={today()}
      />
      <a class="button main wide" href={hrefOf('field', id)}>
        Back to the field
      </a>
    </>
  );
}
