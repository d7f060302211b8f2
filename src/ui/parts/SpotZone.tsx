import type { VisitDocument, VisitSpot } from '../../core/visit/visitSchema.ts';
import { setSpotZone } from '../edits/noteEdits.ts';
import { edit } from '../state/app.ts';
import { Choice } from './Choice.tsx';

interface SpotZoneProps {
  readonly visit: VisitDocument;
  readonly spot: VisitSpot;
  readonly label: string;
}

/** In which zone a spot lies; nothing where the field has no zones. */
export function SpotZone({ visit, spot, label }: SpotZoneProps) {
  const zones = visit.zones ?? [];
  if (zones.length === 0) return null;
  return (
    <Choice
      label={label}
      options={zones.map((zone) => [zone.id, zone.name] as const)}
      value={spot.zoneId ?? null}
      onChange={(zoneId) => void edit('visit', visit.id, setSpotZone(spot.id, zoneId))}
    />
  );
}
