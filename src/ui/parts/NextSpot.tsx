import { useEffect, useState } from 'preact/hooks';
import { holdWhileSeen } from '../../browser/holdWhileSeen.ts';
import type { Vector3 } from '../../core/geometry/point.ts';
import type { VisitDocument } from '../../core/visit/visitSchema.ts';
import { keepTaken } from '../edits/countOnePhoto.ts';
import { outlineOf } from '../edits/outlineOf.ts';
import { addCount } from '../edits/visitEdits.ts';
import { gpsStops, walkStops } from '../edits/walkStops.ts';
import { analysis, edit, newId, nowIso, rows, settings } from '../state/app.ts';
import { whereabouts } from '../state/fix.ts';
import { go } from '../state/route.ts';
import { walkZone, zoneNow } from '../state/walkZone.ts';
import { Camera } from './Camera.tsx';
import { Choice } from './Choice.tsx';
import { PhotoSetup } from './PhotoSetup.tsx';
import { WalkSketch, WayToStop } from './WayToStop.tsx';

const FRESH_MS = 120_000;

export function positionNow(): [number, number] | undefined {
  const { fix } = whereabouts.value;
  return fix === null || Date.now() - fix.atMs > FRESH_MS ? undefined : [fix.latitudeDeg, fix.longitudeDeg];
}

/** Where to go next, and the ways to count there. */
export function NextSpot({ visit }: { visit: VisitDocument }) {
  const [camera, setCamera] = useState(false);
  useEffect(() => holdWhileSeen(analysis.hold), []);
  const outline = outlineOf(rows.value, visit);
  const gps = outline === null ? null : gpsStops(visit.id, outline, visit.spots.length);
  const stops = walkStops(visit, visit.spots.length);
  const stop = stops.ok ? stops.value[visit.spots.length] : undefined;
  const photo = async (file: Blob, name: string, gravity: Vector3 | null) => {
    const spotId = `spot-${newId().slice(0, 8)}`;
    const kept = await keepTaken({ visit, spotId, file, name, position: positionNow(), gravity });
    if (kept !== null) go('visit', visit.id, 'spot', spotId);
  };
  const byHand = async () => {
    const [spotId, countId] = [`spot-${newId().slice(0, 8)}`, `count-${newId().slice(0, 8)}`];
    const { name, tallyLength } = settings.value;
    const start = { id: spotId, name, at: nowIso(), position: positionNow(), note: undefined, zoneId: zoneNow(visit) };
    await edit('visit', visit.id, addCount(start, { id: countId, kind: 'rows', length: tallyLength, plants: [0] }));
    go('visit', visit.id, 'spot', spotId, 'count', countId);
  };
  if (camera) return <Camera onPhoto={photo} onClose={() => setCamera(false)} />;
  return (
    <section class="card next">
      <h2>Spot {visit.spots.length + 1}</h2>
      {outline !== null && gps?.ok && <WayToStop visit={visit} stops={gps.value} />}
      {stop !== undefined && !gps?.ok && (
        <p class="stop">
          <strong>{stop.rowsOver}</strong> rows over, <strong>{stop.pacesIn}</strong> paces{'\u00a0'}in
          <span class="small">drawn by chance, from the corner where you began; do not pick</span>
        </p>
      )}
      {(visit.zones ?? []).length > 0 && (
        <Choice
          label="Zone here"
          options={(visit.zones ?? []).map((zone) => [zone.id, zone.name] as const)}
          value={zoneNow(visit) ?? null}
          onChange={(zone) => {
            walkZone.value = zone === null ? null : { visit: visit.id, zone };
          }}
        />
      )}
      <div class="choices">
        <button type="button" class="main" onClick={() => setCamera(true)}>
          Take a photo
        </button>
        <button type="button" class="main" onClick={() => void byHand()}>
          Count by hand
        </button>
        <PhotoFile label="Phone camera" capture onPhoto={photo} />
        <PhotoFile label="From gallery" onPhoto={photo} />
      </div>
      {outline !== null && gps?.ok && <WalkSketch visit={visit} outline={outline} stops={gps.value} />}
      <PhotoSetup />
    </section>
  );
}

interface PhotoFileProps {
  readonly label: string;
  readonly capture?: boolean;
  readonly onPhoto: (file: Blob, name: string, gravity: Vector3 | null) => Promise<void>;
}

/** A file from the phone's own camera or its gallery. Several at once are several spots. */
export function PhotoFile({ label, capture = false, onPhoto }: PhotoFileProps) {
  return (
    <label class="button file">
      {label}
      <input
        type="file"
        accept="image/*,.heic,.heif"
        {...(capture ? { capture: 'environment' as const } : {})}
        onChange={(event) => {
          const input = event.currentTarget;
          const [file] = input.files ?? [];
          if (file !== undefined) void onPhoto(file, file.name, null);
          input.value = '';
        }}
      />
    </label>
  );
}
