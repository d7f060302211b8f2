import { useEffect } from 'preact/hooks';
import { formatDay } from '../../core/outlook/calendar.ts';
import { type FieldEntry, fieldList } from '../edits/fieldList.ts';
import { fileStandings, standingHere } from '../edits/standingsHere.ts';
import { startVisit } from '../edits/visitEdits.ts';
import { NameFirst } from '../parts/NameFirst.tsx';
import { NotHere } from '../parts/NotHere.tsx';
import { PhotoView } from '../parts/PhotoView.tsx';
import { plural } from '../parts/plural.ts';
import { standingWords, verdictWord } from '../parts/standingWords.ts';
import { TwoDates } from '../parts/TwoDates.tsx';
import { unbroken } from '../parts/unbroken.ts';
import { edit, newId, rows, settings } from '../state/app.ts';
import { go, hrefOf } from '../state/route.ts';
import { today } from '../state/today.ts';

const PHOTOS_SHOWN = 12;

/** One field: its plantings, visits and dated photos. */
export function FieldPage({ id }: { id: string }) {
  const entry = fieldList(rows.value).find((one) => one.field.id === id);
  const known = (entry?.visits ?? []).map((visit) => visit.id + visit.updatedAt).join(' ');
  useEffect(() => {
    void fileStandings(entry?.visits ?? []);
  }, [known]);
  if (entry === undefined) return <NotHere what="field" />;
  const { field, farm, plantings, visits } = entry;
  const photos = visits.flatMap((visit) =>
    visit.spots.flatMap((spot) => spot.photos.map((sha256) => ({ sha256, visit, spot: spot.id }))),
  );
  return (
    <>
      <h1>{field.name}</h1>
      <p class="small">{[farm.name, field.area].filter(Boolean).join(', ')}</p>
      {settings.value.name === '' && <NameFirst />}
      {plantings.map((one) => (
        <Planting key={one.planting.id} entry={entry} one={one} />
      ))}
      <div class="choices">
        <a class="button" href={hrefOf('field', id, 'outline')}>
          {field.outline === undefined ? 'Add an outline' : 'Outline'}
        </a>
        <a class="button" href={hrefOf('field', id, 'new-planting')}>
          New planting
        </a>
      </div>
      <h2>{visits.length === 0 ? 'No visit yet' : plural(visits.length, 'visit')}</h2>
      <ul class="list">
        {visits.map((visit) => (
          <li key={visit.id}>
            <a href={hrefOf('visit', visit.id)} class="row-link">
              <span class="row-name">
                {formatDay(visit.visitedOn)} {visit.visitedOn.slice(0, 4)}
              </span>
              <span class="row-day">{verdictWord(standingHere(visit))}</span>
              <span class="row-stand">{unbroken(standingWords(standingHere(visit)))}</span>
              <span class="small">{plural(visit.spots.length, 'spot')}</span>
              {visit.conflicts > 0 && <strong class="small row-end">{plural(visit.conflicts, 'conflict')}</strong>}
            </a>
          </li>
        ))}
      </ul>
      <TwoDates visits={visits} />
      {photos.length > 0 && (
        <section>
          <h2>{plural(photos.length, 'photo')}</h2>
          <div class="photos">
            {photos.slice(0, PHOTOS_SHOWN).map(({ sha256, visit, spot }) => (
              <a key={visit.id + sha256} href={hrefOf('visit', visit.id, 'spot', spot)}>
                <PhotoView sha256={sha256} side={320} alt={`Row on ${formatDay(visit.visitedOn)}`} />
                <span class="small">{formatDay(visit.visitedOn)}</span>
              </a>
            ))}
          </div>
        </section>
      )}
    </>
  );
}

function Planting({ entry, one }: { entry: FieldEntry; one: FieldEntry['plantings'][number] }) {
  const { planting, season } = one;
  const open = entry.visits.find((visit) => visit.visitedOn === today() && visit.planting === planting.id);
  const start = async () => {
    // Asked when work begins: a browser that grants it does not clear this device's entries.
    void navigator.storage?.persist?.();
    const id = newId();
    const { name, role, units } = settings.value;
    const { field, farm } = entry;
    const zones = entry.visits.find((visit) => visit.planting === planting.id)?.zones;
    const start = { id, visitedOn: today(), units, name, role, farm, field, season, planting };
    await edit('visit', id, startVisit({ ...start, ...(zones === undefined ? {} : { zones: [...zones] }) }));
    go('visit', id);
  };
  const days = Math.round((Date.parse(today()) - Date.parse(planting.plantedOn)) / 86_400_000);
  return (
    <section class="card">
      <h2>
        {planting.marketClass} {season}
      </h2>
      <p>
        {[
          `planted ${formatDay(planting.plantedOn)}`,
          ...(days >= 0 && days < 120 ? [`${days} days ago`] : []),
          ...(planting.rowWidth === undefined ? [] : [`${planting.rowWidth} rows`]),
          ...(planting.seedDrop === undefined ? [] : [planting.seedDrop]),
        ]
          .map(unbroken)
          .join(', ')}
      </p>
      {open === undefined ? (
        <button
          type="button"
          class="main"
          disabled={settings.value.name === '' || days < 0}
          onClick={() => void start()}
        >
          Start a visit
        </button>
      ) : (
        <a class="button main" href={hrefOf('visit', open.id)}>
          Go on with today's visit
        </a>
      )}
      <a class="button wide" href={hrefOf('field', entry.field.id, 'planting', planting.id)}>
        Field and planting
      </a>
    </section>
  );
}
