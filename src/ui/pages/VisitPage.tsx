import { formatDay } from '../../core/outlook/calendar.ts';
import { verdictTitle } from '../../core/report/verdictTitle.ts';
import { isJsonObject } from '../../core/sync/json.ts';
import { phrasingFor } from '../../core/visit/phrasing.ts';
import type { VisitDocument } from '../../core/visit/visitSchema.ts';
import { namedSpots } from '../edits/namedSpots.ts';
import { Conflicts } from '../parts/Conflicts.tsx';
import { Impression } from '../parts/Impression.tsx';
import { NameFirst } from '../parts/NameFirst.tsx';
import { NextSpot } from '../parts/NextSpot.tsx';
import { NotHere } from '../parts/NotHere.tsx';
import { plural } from '../parts/plural.ts';
import { Running } from '../parts/Running.tsx';
import { unbroken } from '../parts/unbroken.ts';
import { useAssessment, useVisit } from '../parts/useVisit.ts';
import { rows, settings } from '../state/app.ts';
import { useWhereabouts } from '../state/fix.ts';
import { hrefOf } from '../state/route.ts';
import { today } from '../state/today.ts';

/** The walk: first impression, spots with the running answer, notes, verdict. */
export function VisitPage({ id }: { id: string }) {
  const shown = useVisit(id);
  const assessment = useAssessment(shown);
  useWhereabouts();
  if (shown === null) return <p class="quiet">Opening</p>;
  if (shown === 'none') return <NotHere what="visit" />;
  const { visit, problem, conflicts } = shown;
  const asked = (visit.impressions ?? []).length > 0 || visit.spots.length > 0;
  const { planting } = visit;
  // On a walk the thumb wants the next spot, however many are behind; whoever looks back wants what was found.
  const isToday = visit.visitedOn === today();
  const next = settings.value.name !== '' && <NextSpot visit={visit} />;
  return (
    <>
      <h1>
        <a href={hrefOf('field', visit.field.id)}>{visit.field.name}</a>
      </h1>
      <p class="small">
        {[
          `${formatDay(visit.visitedOn)} ${visit.visitedOn.slice(0, 4)}`,
          planting.marketClass,
          `planted ${formatDay(planting.plantedOn)}`,
          planting.rowWidth === undefined ? 'no row width' : `${planting.rowWidth} rows`,
        ]
          .map(unbroken)
          .join(', ')}
      </p>
      {problem !== null && (
        <p class="trouble" role="alert">
          Not assessed: {problem}
        </p>
      )}
      <Conflicts visit={id} spots={visit.spots.map((spot) => spot.id)} conflicts={conflicts} />
      {settings.value.name === '' && <NameFirst />}
      {!asked ? (
        settings.value.name !== '' && <Impression visit={id} />
      ) : (
        <>
          {assessment !== null && <Running assessment={assessment} />}
          {isToday && next}
          <nav class="choices onward" aria-label="This visit">
            <a class="button" href={hrefOf('visit', id, 'notes')}>
              Notes
            </a>
            <a class="button main" href={hrefOf('visit', id, 'verdict')}>
              <span class="small">Verdict</span>{' '}
              {assessment !== null && <strong>{verdictTitle(assessment.decision.verdict)}</strong>}
            </a>
          </nav>
          <SpotList visit={visit} spots={assessment?.spots ?? []} />
          {!isToday && next}
        </>
      )}
    </>
  );
}

/** Where the field has zones, the one a spot lies in. */
function zoneText(visit: VisitDocument, zoneId: string | undefined): readonly string[] {
  if (visit.zones === undefined) return [];
  return [visit.zones.find((zone) => zone.id === zoneId)?.name ?? 'in no zone'];
}

type Spots = readonly {
  readonly id: string;
  readonly perM2: number | null;
  readonly plants: number;
  readonly why: string | null;
  readonly outlier: boolean;
}[];

function SpotList({ visit, spots }: { visit: VisitDocument; spots: Spots }) {
  const say = phrasingFor(visit.units, null);
  const known = new Set(visit.spots.map((spot) => spot.id));
  const uncounted = rows.value.flatMap((row) => {
    const brief = row.kind === 'photo' && isJsonObject(row.brief) ? row.brief : {};
    const isHere = brief.visitId === visit.id && typeof brief.spotId === 'string' && !known.has(brief.spotId);
    return isHere ? [String(brief.spotId)] : [];
  });
  return (
    <ol class="list spots">
      {visit.spots.map((spot, i) => {
        const found = spots.find((one) => one.id === spot.id);
        const kinds = spot.counts.map((count) => (count.kind === 'photo' ? 'photo' : 'by hand'));
        return (
          <li key={spot.id}>
            <a href={hrefOf('visit', visit.id, 'spot', spot.id)} class="row-link">
              <span class="row-name">Spot {i + 1}</span>
              <span class="row-day">{found?.perM2 == null ? 'not usable' : say.plants(found.perM2)}</span>
              <span class="small">
                {[
                  ...(found === undefined || found.perM2 === null ? [] : [unbroken(plural(found.plants, 'plant'))]),
                  [...new Set(kinds)].join(' and '),
                  ...zoneText(visit, spot.zoneId),
                  ...(found?.outlier === true ? ['unlike the others'] : []),
                  ...(found?.perM2 == null && found?.why != null ? [namedSpots(found.why, visit)] : []),
                ].join(', ')}
              </span>
            </a>
          </li>
        );
      })}
      {[...new Set(uncounted)].map((spot) => (
        <li key={spot}>
          <a href={hrefOf('visit', visit.id, 'spot', spot)} class="row-link">
            <span class="row-name">Photo kept</span>
            <span class="row-day">not counted yet</span>
          </a>
        </li>
      ))}
    </ol>
  );
}
