import { lazy, Suspense } from 'preact/compat';
import { useEffect, useState } from 'preact/hooks';
import type { CountResult } from '../../core/count/countResult.ts';
import type { Reading } from '../../core/reference/reference.ts';
import { countDecides } from '../../core/visit/countDecides.ts';
import type { VisitChange, VisitCount } from '../../core/visit/countSchema.ts';
import { readVisit } from '../../core/visit/readVisit.ts';
import type { VisitDocument } from '../../core/visit/visitSchema.ts';
import { addCorrection } from '../edits/visitEdits.ts';
import { edit, newId, nowIso, settings, store } from '../state/app.ts';

const LengthPhoto = lazy(() => import('../correct/LengthPhoto.tsx').then((module) => module.LengthPhoto));
const CorrectPhoto = lazy(() => import('../correct/CorrectPhoto.tsx').then((module) => module.CorrectPhoto));

interface CorrectingPhotoProps {
  readonly visit: VisitDocument;
  readonly count: Extract<VisitCount, { kind: 'photo' }>;
  /** The least stand worth keeping, plants per square metre; null while it is not known. */
  readonly floorPerM2: number | null;
  readonly onDone: () => void;
  /** Opens with setting a length instead of looking at marks. */
  readonly setLength: boolean;
  /** A person put places of known readings onto the photo: everything is to be counted anew from them. */
  readonly onMarks: (marks: readonly Reading[]) => void;
}

/** Opens a counted photo for correction, from this device's copy or the server's. Each change is a record of its own. */
export function CorrectingPhoto({ visit, count, floorPerM2, onDone, setLength, onMarks }: CorrectingPhotoProps) {
  const [settingLength, setSettingLength] = useState(setLength);
  const [photo, setPhoto] = useState<Blob | null>(null);
  const [says, setSays] = useState('Opening the photo');
  const { sha256 } = count.result.photo;
  const decides = useDecides(visit, count.id);
  useEffect(() => {
    const open = async () => {
      const found = (await store().get('photos', sha256))?.blob ?? (await fetched(sha256));
      setPhoto(found);
      if (found === null) setSays('The photo is on another device, and no network.');
    };
    void open();
  }, [sha256]);
  if (photo === null) return <p role="status">{says}</p>;
  const result = count.result as unknown as CountResult;
  if (settingLength) {
    const back = () => (setLength ? onDone() : setSettingLength(false));
    return (
      <Suspense fallback={<p role="status">{says}</p>}>
        <LengthPhoto photo={photo} result={result} units={visit.units} onMarks={onMarks} onBack={back} />
      </Suspense>
    );
  }
  const record = (change: VisitChange) =>
    void edit('visit', visit.id, addCorrection(newId(), settings.value.name, nowIso(), count.id, change, undefined));
  return (
    <Suspense fallback={<p role="status">{says}</p>}>
      <CorrectPhoto
        photo={photo}
        result={result}
        strip={null}
        corrections={(visit.corrections ?? []).filter((one) => one.countId === count.id)}
        by={settings.value.name}
        people={visit.people}
        units={visit.units}
        floorPerM2={floorPerM2}
        decides={decides}
        onChange={record}
        onDone={onDone}
        onSetLength={() => setSettingLength(true)}
      />
    </Suspense>
  );
}

/** Whole visits are assessed anew for this: a while after the last touch, never during one. */
const REST_MS = 400;

function useDecides(visit: VisitDocument, countId: string): boolean | null {
  const [decides, setDecides] = useState<boolean | null>(null);
  useEffect(() => {
    const timer = setTimeout(() => setDecides(readVisit(visit).ok ? countDecides(visit, countId) : null), REST_MS);
    return () => clearTimeout(timer);
  }, [visit, countId]);
  return decides;
}

async function fetched(sha256: string): Promise<Blob | null> {
  const answer = await fetch(`/api/photos/${sha256}`).catch(() => null);
  return answer?.ok ? answer.blob() : null;
}
