import type { ChangeRecord, ThingKind } from '../../core/sync/changeRecord.ts';
import { editThing, NOTHING_YET } from '../../core/sync/editThing.ts';
import type { Json } from '../../core/sync/json.ts';
import type { PhotoResult } from '../../core/visit/countSchema.ts';
import { DEMO_VISITS } from '../../core/visit/demo/demoVisits.ts';
import { DEMO_FARM, DEMO_PEOPLE } from '../../core/visit/demo/farm.ts';
import { VISIT_SCHEMA, type VisitDocument } from '../../core/visit/visitSchema.ts';
import { fixedId } from './demoRecords.ts';

/** What the machine said of the photos, beside them; made by scripts/demo-counts.ts. */
export const COUNTS_FILE = 'demo-counts.json';

/** Rendered pictures from sample-images, taken for photos of two spots on two dates: invented, like the farm. */
export const DEMO_PHOTOS = [
  { file: 'side-tape-inch.jpg', on: '2026-06-12', spot: 'spot-1', position: [47.61234, -97.2851] },
  { file: 'down-tape-inch.jpg', on: '2026-06-12', spot: 'spot-2', position: [47.61302, -97.28344] },
  { file: 'side-tape-10ft-weeds.jpg', on: '2026-06-18', spot: 'spot-1', position: [47.61236, -97.28512] },
  { file: 'down-doubles.jpg', on: '2026-06-18', spot: 'spot-2', position: [47.61299, -97.28341] },
] as const;

const AUTHOR = 'Tomas Reyes';

/** Two visits of one field, six days apart, with a photo count at each of two spots, and what belongs to the photos. */
export function demoPhotoRecords(results: Readonly<Record<string, PhotoResult>>): readonly ChangeRecord[] {
  const days = [...new Set(DEMO_PHOTOS.map(({ on }) => on))];
  const records: Omit<ChangeRecord, 'sequence'>[] = days.map((on) => {
    const visit = visitOf(on, results);
    return record('visit', visit.id, `${on}T16:00:00.000Z`, visit as unknown as Json);
  });
  for (const { file, on, spot, position } of DEMO_PHOTOS) {
    const result = results[file];
    if (result === undefined) throw new Error(`${COUNTS_FILE} says nothing of ${file}: run scripts/demo-counts.ts`);
    const { sha256 } = result.photo;
    const at = `${on}T15:00:00.000Z`;
    const photo = { schema: 'rowledger/photo@1', id: sha256, visitId: visitId(on), spotId: spot, fieldId: FIELD.id };
    records.push(record('photo', sha256, at, { ...photo, takenAt: at, position: [...position] }));
    const model = result.detector as Json;
    const detections = { schema: 'rowledger/detections@1', photo: sha256, model, code: 'rowledger demo', at };
    const id = fixedId(`demo detections ${file} ${sha256}`);
    const changes = [{ path: '', value: { ...detections, result: result as unknown as Json }, replaces: [] }];
    records.push({ ...record('detections', id, at, {}), id, changes });
  }
  return records.map((one, i) => ({ ...one, sequence: DEMO_VISITS.length + 1 + i }));
}

const FIELD = { id: 'field-mill-bend', name: 'Mill Bend', area: '44 ac', insured: false };
const visitId = (on: string) => `visit-mill-bend-${on}`;

function visitOf(on: string, results: Readonly<Record<string, PhotoResult>>): VisitDocument {
  return {
    schema: VISIT_SCHEMA,
    id: visitId(on),
    visitedOn: on,
    units: 'imperial',
    people: DEMO_PEOPLE,
    farm: DEMO_FARM,
    field: FIELD,
    season: 2026,
    planting: {
      id: 'planting-mill-bend-2026',
      plantedOn: '2026-05-25',
      marketClass: 'pinto',
      growthHabit: 'III',
      rowWidth: '30 in',
      seedDrop: '53,000 seeds/ac',
      seedSpacing: '4 in',
      depth: '2 in',
    },
    spots: DEMO_PHOTOS.filter((photo) => photo.on === on).map(({ file, spot, position }) => ({
      id: spot,
      by: 'tomas',
      countedAt: `${on}T15:00:00Z`,
      position: [...position],
      counts: [{ id: `${spot}-photo`, kind: 'photo', result: results[file]! }],
    })),
    impressions: [{ id: 'impression-1', at: `${on}T14:50:00Z`, by: 'tomas', leaning: 'keep' }],
  };
}

function record(kind: ThingKind, thing: string, at: string, document: Json): Omit<ChangeRecord, 'sequence'> {
  return {
    schema: 'rowledger/record@1',
    id: fixedId(`demo ${kind} ${thing}`),
    device: 'demo',
    author: AUTHOR,
    at,
    kind,
    thing,
    parents: [],
    changes: editThing(NOTHING_YET, document),
  };
}
