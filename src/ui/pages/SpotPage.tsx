import { useEffect, useRef, useState } from 'preact/hooks';
import { holdWhileSeen } from '../../browser/holdWhileSeen.ts';
import type { HeldPhoto } from '../../browser/store/storeTypes.ts';
import type { CountResult } from '../../core/count/countResult.ts';
import type { Vector3 } from '../../core/geometry/point.ts';
import { formatDay } from '../../core/outlook/calendar.ts';
import type { Reading } from '../../core/reference/reference.ts';
import { isJsonObject, type JsonObject } from '../../core/sync/json.ts';
import { formatLength } from '../../core/units/formatLength.ts';
import { applyCorrections } from '../../core/visit/applyCorrections.ts';
import type { PhotoResult, VisitCount } from '../../core/visit/countSchema.ts';
import type { VisitDocument } from '../../core/visit/visitSchema.ts';
import { countOnePhoto, firstNumbers, keepTaken, leavePhotoOut } from '../edits/countOnePhoto.ts';
import { setSpotNote } from '../edits/noteEdits.ts';
import { addCorrection, leftOutBy } from '../edits/visitEdits.ts';
import { CheckPhoto } from '../learning/CheckPhoto.tsx';
import { CorrectingPhoto } from '../parts/CorrectingPhoto.tsx';
import { checkedShare, EVERY_MARK } from '../parts/checkedShare.ts';
import { FirstNumber } from '../parts/FirstNumber.tsx';
import { CarriedOver, LeftOut } from '../parts/LeftOut.tsx';
import { PhotoFile, positionNow } from '../parts/NextSpot.tsx';
import { NotHere } from '../parts/NotHere.tsx';
import { PhotoNumbers } from '../parts/PhotoNumbers.tsx';
import { PhotoSetup } from '../parts/PhotoSetup.tsx';
import { PhotoView } from '../parts/PhotoView.tsx';
import { pageRefusal } from '../parts/pageWords.ts';
import { SpotZone } from '../parts/SpotZone.tsx';
import { TextField } from '../parts/TextField.tsx';
import { useAssessment, useVisit } from '../parts/useVisit.ts';
import { analysis, edit, newId, nowIso, rows, settings, store } from '../state/app.ts';
import { hrefOf } from '../state/route.ts';

/** One spot: its counts and photos; a photo that is not counted yet is counted as the page opens. */
export function SpotPage({ id, spot }: { id: string; spot: string }) {
  const shown = useVisit(id);
  useEffect(() => holdWhileSeen(analysis.hold), []);
  // A photo being corrected covers the page: nothing of the rest is worked out at its every answer.
  const [covered, setCovered] = useState(false);
  const assessed = useAssessment(covered ? null : shown)?.floorPerM2 ?? null;
  const floor = useRef(assessed);
  if (!covered) floor.current = assessed;
  if (shown === null) return <p class="quiet">Opening</p>;
  if (shown === 'none') return <NotHere what="visit" />;
  const { visit } = shown;
  const place = visit.spots.findIndex((one) => one.id === spot);
  const own = visit.spots[place];
  const counts = own?.counts ?? [];
  // What counts no more stands below what does.
  const out = counts.filter((count) => leftOutBy(visit, count.id).length > 0);
  const counted = new Set(counts.flatMap((count) => (count.kind === 'photo' ? [count.result.photo.sha256] : [])));
  const uncounted = rows.value.filter((row) => {
    const brief = row.kind === 'photo' && isJsonObject(row.brief) ? row.brief : {};
    return brief.visitId === id && brief.spotId === spot && !counted.has(row.thing);
  });
  const another = async (file: Blob, name: string, gravity: Vector3 | null) => {
    await keepTaken({ visit, spotId: spot, file, name, position: positionNow(), gravity });
  };
  return (
    <>
      <h1>{place < 0 ? `Spot ${visit.spots.length + 1}` : `Spot ${place + 1}`}</h1>
      <p class="small">
        {visit.field.name}, {formatDay(visit.visitedOn)} {visit.visitedOn.slice(0, 4)}
      </p>
      {uncounted.map((row) => (
        <Uncounted key={row.thing} visit={visit} spot={spot} sha256={row.thing} />
      ))}
      {[...counts.filter((count) => !out.includes(count)), ...out].map((count) => (
        <Count key={count.id} visit={visit} spot={spot} count={count} floorPerM2={floor.current} onCover={setCovered} />
      ))}
      {own !== undefined && (
        <>
          <SpotZone visit={visit} spot={own} label="Zone" />
          <TextField
            label="Note on this spot"
            value={own.note ?? ''}
            onChange={(note) => void edit('visit', id, setSpotNote(spot, note))}
          />
        </>
      )}
      <div class="choices">
        <PhotoFile label="Another photo here" onPhoto={another} />
        <a class="button main" href={hrefOf('visit', id)}>
          Back to the walk
        </a>
      </div>
    </>
  );
}

function photoBrief(sha256: string): JsonObject {
  const row = rows.value.find((one) => one.kind === 'photo' && one.thing === sha256);
  return isJsonObject(row?.brief) ? row.brief : {};
}

/** How the phone was held, where that was kept with the photo. */
function gravityOf(sha256: string): Vector3 | null {
  const { gravity } = photoBrief(sha256);
  return Array.isArray(gravity) ? (gravity as unknown as Vector3) : null;
}

/** A kept photo on its way to a count. */
function Uncounted({ visit, spot, sha256 }: { visit: VisitDocument; spot: string; sha256: string }) {
  const [says, setSays] = useState<string | null>(null);
  const [photo, setPhoto] = useState<HeldPhoto | null>(null);
  const count = async () => {
    setSays(null);
    const held = (await store().get('photos', sha256)) ?? null;
    setPhoto(held);
    if (held === null) {
      setSays('The photo is on another device.');
      return;
    }
    const { position: at } = photoBrief(sha256);
    const position = Array.isArray(at) ? (at as unknown as [number, number]) : undefined;
    const gravity = gravityOf(sha256);
    const outcome = await countOnePhoto(visit, spot, held, { position, gravity, before: null });
    if (!outcome.ok) setSays(pageRefusal(outcome));
  };
  useEffect(() => {
    void count();
  }, [sha256]);
  const first = firstNumbers.value.get(sha256);
  return (
    <section class="card">
      {says === null && (
        <div class="counting">
          {first === undefined ? (
            <p role="status" class="busy">
              Counting. The photo is kept.
            </p>
          ) : (
            <FirstNumber first={first} units={visit.units} />
          )}
        </div>
      )}
      <PhotoView
        sha256={sha256}
        side={640}
        alt="The photo taken here"
        {...(first === undefined ? {} : { result: first as unknown as PhotoResult })}
      />
      {says !== null && (
        <>
          <p role="alert">{says}</p>
          <PhotoSetup />
          {photo !== null && (
            <button type="button" onClick={() => void count()}>
              Count again
            </button>
          )}
          <button type="button" onClick={() => void leavePhotoOut(sha256)}>
            Leave this photo out
          </button>
          <p class="small">A photo stays in the archive, and belongs to no spot. A file that is no photo goes.</p>
        </>
      )}
    </section>
  );
}

interface CountProps {
  readonly visit: VisitDocument;
  readonly spot: string;
  readonly count: VisitCount;
  readonly floorPerM2: number | null;
  /** The page is covered by a view of this count, or no more. */
  readonly onCover: (covered: boolean) => void;
}

function Count({ visit, spot, count, floorPerM2, onCover }: CountProps) {
  const leaveOut = (why: string) =>
    edit(
      'visit',
      visit.id,
      addCorrection(newId(), settings.value.name, nowIso(), count.id, { kind: 'leave out' }, why),
    );
  const out = leftOutBy(visit, count.id).at(-1);
  if (out !== undefined) return <LeftOut visit={visit} count={count} deed={out} />;
  if (count.kind === 'photo') {
    return <PhotoCount {...{ visit, spot, count, floorPerM2, onCover }} onLeaveOut={leaveOut} />;
  }
  return (
    <section class="card">
      <HandNumbers count={applyCorrections(count, visit.corrections ?? []).count} />
      <div class="choices">
        <a class="button" href={hrefOf('visit', visit.id, 'spot', spot, 'count', count.id)}>
          Go on counting
        </a>
        <button type="button" onClick={() => void leaveOut(LEFT_OUT)}>
          Leave this count out
        </button>
      </div>
    </section>
  );
}

function HandNumbers({ count }: { count: VisitCount }) {
  if (count.kind === 'photo') return null;
  const plants = count.kind === 'rows' ? count.plants.join(' + ') : String(count.plants);
  const size =
    count.kind === 'rows'
      ? `${count.length} of row`
      : count.kind === 'hoop'
        ? `a hoop ${count.insideDiameter} wide`
        : `${count.width} by ${count.length}`;
  return (
    <>
      <p class="big">{plants}</p>
      <p>
        {plants === '1' ? 'plant' : 'plants'} in {size}
      </p>
    </>
  );
}

const COUNTING_AGAIN = 'Counting again';
const LEFT_OUT = 'taken out on the spot';

type Photo = Extract<VisitCount, { kind: 'photo' }>;
interface PhotoCountProps {
  readonly visit: VisitDocument;
  readonly spot: string;
  readonly count: Photo;
  readonly floorPerM2: number | null;
  readonly onCover: (covered: boolean) => void;
  readonly onLeaveOut: (why: string) => Promise<boolean>;
}

function PhotoCount({ visit, spot, count, floorPerM2, onCover, onLeaveOut }: PhotoCountProps) {
  const [open, show] = useState<'marks' | 'length' | null>(null);
  const setOpen = (next: typeof open) => {
    show(next);
    onCover(next !== null);
  };
  const [says, setSays] = useState('');
  useEffect(() => () => onCover(false), []);
  const { sha256 } = count.result.photo;
  const first = firstNumbers.value.get(sha256);
  const nameOf = (by: string) => visit.people.find((person) => person.id === by)?.name ?? by;
  const own = (visit.corrections ?? []).filter((one) => one.countId === count.id);
  const checkedBy = [...new Set(own.map((one) => nameOf(one.by)))];
  const again = async (marks?: readonly Reading[]) => {
    setOpen(null);
    const photo = await store().get('photos', sha256);
    if (photo === undefined) return setSays('The photo is on another device.');
    setSays(COUNTING_AGAIN);
    scrollTo(0, 0);
    const position = visit.spots.find((one) => one.id === spot)?.position;
    const gravity = gravityOf(sha256);
    const outcome = await countOnePhoto(visit, spot, photo, {
      position,
      gravity,
      before: count,
      ...(marks === undefined ? {} : { marks }),
    });
    setSays(outcome.ok ? '' : pageRefusal(outcome));
  };
  if (open !== null) {
    const about = { visit, count, floorPerM2, setLength: open === 'length' };
    return <CorrectingPhoto {...about} onMarks={(marks) => void again(marks)} onDone={() => setOpen(null)} />;
  }
  const corrected = applyCorrections(count, visit.corrections ?? []).count as Photo;
  const noScale = count.result.stretch === null;
  const toSetLength = (
    <button type="button" class={noScale ? 'main' : ''} onClick={() => setOpen('length')}>
      Set a length on the photo
    </button>
  );
  return (
    <section class="card">
      <p role="status" class={says === COUNTING_AGAIN ? 'busy' : 'wrong'}>
        {says}
      </p>
      {first !== undefined && <FirstNumber first={first} units={visit.units} />}
      <CarriedOver corrections={own} />
      <PhotoNumbers original={count.result} result={corrected.result} checkedBy={checkedBy} units={visit.units} />
      <PhotoView
        sha256={sha256}
        side={1280}
        alt={`${count.result.photo.file}, plants marked`}
        result={corrected.result}
      />
      <p class="small">
        {count.result.stretch === null
          ? 'No scale: the plants found are marked, no length is measured.'
          : `Counted from ${count.result.stretch.fromM === 0 ? '0' : formatLength(count.result.stretch.fromM, visit.units)} to ${formatLength(count.result.stretch.toM, visit.units)}; dashed rings stand outside.`}
      </p>
      <div class="choices">
        {noScale && toSetLength}
        <button type="button" class={noScale ? '' : 'main'} onClick={() => setOpen('marks')}>
          Correct
        </button>
        <CheckPhoto
          visit={visit}
          countId={count.id}
          isDone={checkedShare(corrected.result as unknown as CountResult) === EVERY_MARK}
        />
        <button type="button" onClick={() => void onLeaveOut(LEFT_OUT)}>
          Leave this count out
        </button>
      </div>
      <details class="setup">
        <summary>Count again another way</summary>
        <PhotoSetup />
        <button type="button" onClick={() => void again()}>
          Count again
        </button>
        {!noScale && toSetLength}
      </details>
    </section>
  );
}
