import { signal } from '@preact/signals';
import { dropRefusedPhotos, keepPhoto } from '../../browser/store/keepPhoto.ts';
import type { HeldPhoto } from '../../browser/store/storeTypes.ts';
import type { CountOptions } from '../../core/count/countOptions.ts';
import type { CountResult } from '../../core/count/countResult.ts';
import { cannot, type Outcome } from '../../core/faults/outcome.ts';
import type { Vector3 } from '../../core/geometry/point.ts';
import type { Reading } from '../../core/reference/reference.ts';
import type { Json } from '../../core/sync/json.ts';
import type { VisitDocument } from '../../core/visit/visitSchema.ts';
import type { Measured } from '../../worker/analysisApi.ts';
import { headOfFarm } from '../learning/headOfFarm.ts';
import { pageWords } from '../parts/pageWords.ts';
import { analysis, edit, entered, newId, nowIso, settings, settle, store } from '../state/app.ts';
import { zoneNow } from '../state/walkZone.ts';
import { codeVersion } from './codeVersion.ts';
import { photoOptions } from './photoOptions.ts';
import { addCorrection, addCount, carryCorrections, type PhotoCount, photoCount } from './visitEdits.ts';

export interface TakenPhoto {
  readonly visit: VisitDocument;
  readonly spotId: string;
  readonly file: Blob;
  readonly name: string;
  readonly position: readonly [number, number] | undefined;
  readonly gravity: Vector3 | null;
}

/** A photo that could not be written: still in the page's memory, to be tried again or saved as a file. */
export const unkept = signal<TakenPhoto | null>(null);

/** The last photo that came, measured while the disk still writes it; nothing is recorded of it before it is kept. */
let begun: { readonly sha256: string; readonly options: CountOptions; readonly outcome: Looking } | null = null;
type Looking = Promise<Outcome<Measured>>;

function lookEarly(visit: VisitDocument, photo: HeldPhoto, options: CountOptions): void {
  const { sha256 } = photo;
  if (running.has(sha256)) return;
  const outcome = look(visit, photo, options);
  begun = { sha256, options, outcome };
  const unasked = () => {
    if (!running.has(sha256)) showFirst(sha256, null);
  };
  outcome.then(unasked, unasked);
}

/**
 * Keeps a photo on the device with what is known of it; measuring begins as soon as its bytes are read. Null: it could
 * not be kept, and what is measured of it is forgotten.
 */
export async function keepTaken(taken: TakenPhoto): Promise<HeldPhoto | null> {
  let photo: HeldPhoto | null = null;
  const at = nowIso();
  const { visit, spotId, position, gravity } = taken;
  const options = photoOptions(settings.value, visit.planting, gravity);
  // One that found no room before may find none again: then nothing is measured for nothing, try after try.
  const early = unkept.value !== taken && options.ok ? options.value : null;
  const kept = await entered(async () => {
    photo = await keepPhoto(store(), taken.file, taken.name, at, (read) => {
      if (early !== null) lookEarly(visit, read, early);
    });
  });
  if (!kept || photo === null) {
    begun = null;
    unkept.value = taken;
    return null;
  }
  unkept.value = null;
  const { sha256 } = photo as HeldPhoto;
  await edit('photo', sha256, () => ({
    schema: 'rowledger/photo@1',
    id: sha256,
    visitId: visit.id,
    spotId,
    fieldId: visit.field.id,
    takenAt: at,
    ...(position === undefined ? {} : { position }),
    ...(gravity === null ? {} : { gravity: [...gravity] }),
    ...(visit.planting.rowWidth === undefined ? {} : { rowWidth: visit.planting.rowWidth }),
  }));
  return photo;
}

/**
 * A photo that is not to be counted: it belongs to no spot any more, and stays in the archive with its visit. A file
 * that the server does not take for a photo is nowhere else, and goes.
 */
export async function leavePhotoOut(sha256: string): Promise<void> {
  await edit('photo', sha256, (document) => {
    const { spotId: _spot, ...rest } = document as { readonly [key: string]: Json };
    return rest;
  });
  await entered(() => dropRefusedPhotos(store(), sha256));
}

/**
 * Quick counts by colour, by photo, while the network still looks. Shown, never kept: one record is made, of what
 * counted in the end.
 */
export const firstNumbers = signal<ReadonlyMap<string, CountResult>>(new Map());

function showFirst(sha256: string, first: CountResult | null): void {
  const others = [...firstNumbers.value].filter(([key]) => key !== sha256);
  firstNumbers.value = new Map(first === null ? others : [...others, [sha256, first]]);
}

const running = new Map<string, Promise<Outcome<Measured>>>();

/** Measures a kept photo once, however often it is asked for meanwhile. */
export function countOnePhoto(...about: Parameters<typeof measure>): Promise<Outcome<Measured>> {
  const key = about[2].sha256;
  const known = running.get(key);
  if (known !== undefined) return known;
  const measuring = measure(...about).finally(() => {
    running.delete(key);
    showFirst(key, null);
  });
  running.set(key, measuring);
  return measuring;
}

/** What the measuring thread says of a photo, its quick number shown meanwhile. */
async function look(visit: VisitDocument, photo: HeldPhoto, options: CountOptions): Looking {
  const head = await headOfFarm(visit.farm.id);
  return analysis.count(photo.blob, photo.file, options, 'auto', (first) => showFirst(photo.sha256, first), head);
}

/** Measures a kept photo, records what the machine found, and adds the count to its spot. */
async function measure(
  visit: VisitDocument,
  spotId: string,
  photo: HeldPhoto,
  about: {
    readonly position: readonly [number, number] | undefined;
    readonly gravity: Vector3 | null;
    /** Counted before, in another way: this count comes beside the older one, with what people said against that. */
    readonly before: PhotoCount | null;
    /** Places of known readings that a person put onto the photo: the reference, whatever else lies there. */
    readonly marks?: readonly Reading[];
  },
): Promise<Outcome<Measured>> {
  const options = photoOptions(settings.value, visit.planting, about.gravity);
  if (!options.ok) return options;
  const { marks } = about;
  const wanted: CountOptions =
    marks === undefined ? options.value : { ...options.value, reference: { kind: 'marks', marks }, stretch: null };
  const early = begun?.sha256 === photo.sha256 && sameOptions(begun.options, wanted) ? begun.outcome : null;
  if (early !== null) begun = null;
  const outcome = await (early ?? look(visit, photo, wanted));
  if (!outcome.ok) return outcome;
  const { result, stock } = outcome.value;
  if (marks !== undefined && result.stretch === null) return marksRefused(result);
  const [at, name] = [nowIso(), settings.value.name];
  const detections = {
    schema: 'rowledger/detections@1',
    photo: photo.sha256,
    model: { ...result.detector },
    code: codeVersion,
    at,
    result: result as unknown as Json,
    ...(stock === null ? {} : { stock: stock as unknown as Json }),
  };
  await settle('detections', newId(), () => [{ path: '', value: detections as unknown as Json, replaces: [] }]);
  const start = {
    id: spotId,
    name,
    at,
    position: about.position === undefined ? undefined : ([...about.position] as [number, number]),
    note: undefined,
    zoneId: zoneNow(visit),
  };
  const { before } = about;
  const count = photoCount(`count-${newId().slice(0, 8)}`, result as never);
  const added = addCount(start, count, before !== null);
  if (before === null) {
    await edit('visit', visit.id, added);
    return outcome;
  }
  // In one step: a tab that dies here never leaves two counts of one photo.
  const carried = carryCorrections(`carried-${newId().slice(0, 8)}`, at, before, count);
  const why = marks === undefined ? 'counted again' : 'counted again with a length set';
  const leftOut = addCorrection(newId(), name, at, before.id, { kind: 'leave out' }, why);
  await edit('visit', visit.id, (document) => leftOut(carried(added(document))));
  return outcome;
}

const sameOptions = (a: CountOptions, b: CountOptions): boolean => JSON.stringify(a) === JSON.stringify(b);

/** Marks that give no length are told, and no count is made of them. */
function marksRefused({ reference }: CountResult): Outcome<Measured> {
  const { reason, reasonCode: code = '', reasonValues: values = {} } = reference;
  const found = reason === null ? 'the points give no length' : pageWords({ code, message: reason, values });
  return cannot('marks', found, 'points far apart along one straight thing', 'Set the length again.');
}
