import { useState } from 'preact/hooks';
import { sameSpot } from '../../core/archive/sameSpot.ts';
import { formatDay } from '../../core/outlook/calendar.ts';
import type { VisitBrief } from '../edits/fieldList.ts';
import { settings } from '../state/app.ts';
import { hrefOf } from '../state/route.ts';
import { PhotoView } from './PhotoView.tsx';
import { distanceText } from './WayToStop.tsx';

/** Photos of one spot on two dates, side by side. Spots are matched by position, else by name, which is weaker. */
export function TwoDates({ visits }: { visits: readonly VisitBrief[] }) {
  const dated = visits.filter((visit) => visit.spots.some((spot) => spot.photos.length > 0));
  const [chosen, setChosen] = useState<readonly [string, string] | null>(null);
  if (dated.length < 2) return null;
  const [laterId, earlierId] = chosen ?? [dated[0]!.id, dated[1]!.id];
  const [later, earlier] = [laterId, earlierId].map((id) => dated.find((visit) => visit.id === id));
  if (later === undefined || earlier === undefined) return null;
  const pick = (which: 0 | 1) => (event: Event) => {
    const { value } = event.currentTarget as HTMLSelectElement;
    setChosen(which === 0 ? [value, earlierId] : [laterId, value]);
  };
  return (
    <section>
      <h2>Two dates</h2>
      <div class="two">
        {([1, 0] as const).map((which) => (
          <label key={which} class="line">
            <span>{which === 1 ? 'Earlier' : 'Later'}</span>
            <select value={which === 1 ? earlierId : laterId} onChange={pick(which)}>
              {dated.map((visit) => (
                <option key={visit.id} value={visit.id}>
                  {formatDay(visit.visitedOn)} {visit.visitedOn.slice(0, 4)}
                </option>
              ))}
            </select>
          </label>
        ))}
      </div>
      {pairsOf(earlier, later).map(({ first, second, from, to, how }) => (
        <div class="two" key={first + second}>
          <a href={hrefOf('visit', earlier.id, 'spot', from)}>
            <PhotoView sha256={first} side={640} alt={`Row on ${formatDay(earlier.visitedOn)}`} />
          </a>
          <a href={hrefOf('visit', later.id, 'spot', to)}>
            <PhotoView sha256={second} side={640} alt={`Row on ${formatDay(later.visitedOn)}`} />
          </a>
          <p class="small">{how}</p>
        </div>
      ))}
    </section>
  );
}

function pairsOf(earlier: VisitBrief, later: VisitBrief) {
  const place = (spot: VisitBrief['spots'][number]) => ({
    spot: spot.id,
    latitude: spot.position?.[0] ?? null,
    longitude: spot.position?.[1] ?? null,
  });
  const pairs = earlier.spots.flatMap((a) =>
    later.spots.flatMap((b) => {
      const [first, second] = [a.photos[0], b.photos[0]];
      const match = first === undefined || second === undefined ? null : sameSpot(place(a), place(b));
      if (match === null || first === undefined || second === undefined) return [];
      const metres = match.distanceM;
      const apart = metres === null ? '' : distanceText(metres, settings.value.units);
      const how = metres === null ? 'Matched by name; no position is known' : `Taken ${apart} apart`;
      return [{ first, second, from: a.id, to: b.id, how, metres }];
    }),
  );
  return pairs.sort((a, b) => (a.metres ?? 1e9) - (b.metres ?? 1e9)).slice(0, 6);
}
