import type { VisitDocument } from '../../core/visit/visitSchema.ts';
import { NotHere } from '../parts/NotHere.tsx';
import { PlantingFacts } from '../parts/PlantingFacts.tsx';
import { useVisit } from '../parts/useVisit.ts';
import { hrefOf } from '../state/route.ts';
import { CostNotes } from './CostNotes.tsx';
import { DamageNotes } from './DamageNotes.tsx';
import { DigNotes } from './DigNotes.tsx';
import { EarlierNotes } from './EarlierNotes.tsx';
import { NOTE_PARTS } from './noteParts.ts';
import { PeopleNotes } from './PeopleNotes.tsx';
import { ScoutingNotes } from './ScoutingNotes.tsx';
import { SeenPlants } from './SeenPlants.tsx';
import { SignNotes } from './SignNotes.tsx';
import { SprayNotes } from './SprayNotes.tsx';
import { WeatherNotes } from './WeatherNotes.tsx';
import { ZoneNotes } from './ZoneNotes.tsx';

/** What else there is to say of a visit, each on a page of its own; nothing here is needed to count. */
export function NotesPage({ id, part, entry }: { id: string; part: string; entry: string }) {
  const shown = useVisit(id);
  if (shown === null) return <p class="quiet">Opening</p>;
  if (shown === 'none') return <NotHere what="visit" />;
  const { visit } = shown;
  const damage = part === 'damage' ? visit.damage?.find((one) => one.id === entry) : undefined;
  if (damage !== undefined) return <SeenPlants visit={visit} damage={damage} />;
  const open = NOTE_PARTS.find((one) => one.id === part);
  if (open !== undefined) {
    return (
      <>
        <h1>{open.label}</h1>
        <p class="small">{visit.field.name}</p>
        <Part visit={visit} part={open.id} />
        <div class="choices">
          <a class="button" href={hrefOf('visit', id, 'notes')}>
            All notes
          </a>
          <a class="button main" href={hrefOf('visit', id)}>
            Back to the walk
          </a>
        </div>
      </>
    );
  }
  return (
    <>
      <h1>Notes</h1>
      <p class="small">{visit.field.name}</p>
      <ul class="list">
        {NOTE_PARTS.map((one) => (
          <li key={one.id}>
            <a class="row-link" href={hrefOf('visit', id, 'notes', one.id)}>
              <span class="row-name">{one.label}</span>
              <span class="row-day">{one.says(visit)}</span>
            </a>
          </li>
        ))}
      </ul>
      <a class="button main wide" href={hrefOf('visit', id)}>
        Back to the walk
      </a>
    </>
  );
}

function Part({ visit, part }: { visit: VisitDocument; part: string }) {
  switch (part) {
    case 'damage':
      return <DamageNotes visit={visit} />;
    case 'dig':
      return <DigNotes visit={visit} />;
    case 'signs':
      return <SignNotes visit={visit} />;
    case 'weather':
      return <WeatherNotes visit={visit} />;
    case 'zones':
      return <ZoneNotes visit={visit} />;
    case 'scouting':
      return <ScoutingNotes visit={visit} />;
    case 'earlier':
      return <EarlierNotes visit={visit} />;
    case 'spraying':
      return <SprayNotes visit={visit} />;
    case 'people':
      return <PeopleNotes visit={visit} />;
    case 'costs':
      return <CostNotes visit={visit} />;
    default:
      return (
        <PlantingFacts
          farm={visit.farm}
          field={visit.field}
          planting={visit.planting}
          season={visit.season}
          visit={visit.id}
          until={visit.visitedOn}
        />
      );
  }
}
