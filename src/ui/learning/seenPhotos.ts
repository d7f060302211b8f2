import { standingChanges } from '../../core/corrections/standingChanges.ts';
import type { CountResult } from '../../core/count/countResult.ts';
import { FEATURE_NAMES } from '../../core/learning/featureNames.ts';
import type { SeenPhoto } from '../../core/learning/learningSet.ts';
import type { StockMarks } from '../../core/learning/stockMarks.ts';
import { isJsonObject, type Json } from '../../core/sync/json.ts';
import type { VisitDocument } from '../../core/visit/visitSchema.ts';
import { store } from '../state/app.ts';

/** The counted photos of a farm, as people went through them, and the detector whose marks can be learned from. */
export interface FarmPhotos {
  readonly photos: readonly SeenPhoto[];
  /** Null while no photo was counted here with marks to learn from. */
  readonly detector: StockMarks['detector'] | null;
  /** Where each count stands, with what made it. */
  readonly counts: readonly {
    readonly visit: string;
    readonly spot: string;
    /** Its number in the visit, from 1. */
    readonly place: number;
    readonly visitedOn: string;
    readonly detector: CountResult['detector'];
  }[];
}

interface Held {
  readonly at: string;
  readonly ids: string;
  readonly model: CountResult['detector'];
  readonly stock: StockMarks;
}

/** Gathers what this device holds of a farm; left-out counts are not looked at. */
export async function farmPhotos(farm: string): Promise<FarmPhotos> {
  const held = await heldMarks();
  const counted: { readonly result: CountResult; readonly corrections: SeenPhoto['corrections'] }[] = [];
  const counts: FarmPhotos['counts'][number][] = [];
  for (const visit of await visitsOf(farm)) {
    for (const [i, spot] of visit.spots.entries()) {
      for (const count of spot.counts) {
        const corrections = (visit.corrections ?? []).filter((one) => one.countId === count.id);
        const { standing } = standingChanges(corrections);
        if (count.kind !== 'photo' || standing.some(({ change }) => change.kind === 'leave out')) continue;
        const result = count.result as unknown as CountResult;
        const { visitedOn } = visit;
        counts.push({ visit: visit.id, spot: spot.id, place: i + 1, visitedOn, detector: result.detector });
        counted.push({ result, corrections });
      }
    }
  }
  const ofFarm = counted.flatMap(({ result }) => held.get(result.photo.sha256) ?? []);
  const detector = ofFarm.sort((a, b) => (a.at < b.at ? 1 : -1))[0]?.stock.detector ?? null;
  const photos = counted.map(({ result, corrections }): SeenPhoto => {
    const stock = stockOf(result, held.get(result.photo.sha256) ?? [], detector);
    const features = result.stretch === null ? null : stock.map((mark) => mark.features);
    return { result, stock, features, corrections };
  });
  return { photos, detector, counts };
}

/** The marks kept with this very count by the detector that is learned from; none where there are none. */
function stockOf(
  { detector, plants }: CountResult,
  held: readonly Held[],
  from: StockMarks['detector'] | null,
): StockMarks['marks'] {
  const own = held.find(
    ({ model, ids, stock }) =>
      model.name === detector.name &&
      model.version === detector.version &&
      ids === idsOf(plants) &&
      stock.detector.name === from?.name &&
      stock.detector.version === from.version &&
      stock.featureNames.join() === FEATURE_NAMES.join(),
  );
  return own?.stock.marks ?? [];
}

const idsOf = (plants: readonly { readonly id: string }[]) =>
  plants
    .map(({ id }) => id)
    .sort()
    .join();

/** Marks kept with machine counts on this device, by photo, the newest first. */
async function heldMarks(): Promise<ReadonlyMap<string, readonly Held[]>> {
  const byPhoto = new Map<string, Held[]>();
  const range = IDBKeyRange.bound('detections/', 'detections0', false, true);
  for (const { record } of await store().getAllFromIndex('records', 'thing', range)) {
    const document = record.changes[0]?.value;
    if (!isJsonObject(document) || !isJsonObject(document.stock) || typeof document.photo !== 'string') continue;
    const { plants, detector } = document.result as unknown as CountResult;
    const one: Held = {
      at: record.at,
      ids: idsOf(plants),
      model: detector,
      stock: document.stock as unknown as StockMarks,
    };
    byPhoto.set(
      document.photo,
      [one, ...(byPhoto.get(document.photo) ?? [])].sort((a, b) => (a.at < b.at ? 1 : -1)),
    );
  }
  return byPhoto;
}

async function visitsOf(farm: string): Promise<readonly VisitDocument[]> {
  const [things, drafts] = await Promise.all([store().getAll('things'), store().getAll('drafts')]);
  const documents = new Map<string, Json>();
  for (const { kind, thing, document } of [...things, ...drafts]) if (kind === 'visit') documents.set(thing, document);
  return [...documents.values()].filter(
    (document): document is Json & VisitDocument =>
      isJsonObject(document) &&
      document.removed !== true &&
      isJsonObject(document.farm) &&
      document.farm.id === farm &&
      Array.isArray(document.spots),
  ) as unknown as readonly VisitDocument[];
}
