import { lazy, Suspense } from 'preact/compat';
import { useEffect, useState } from 'preact/hooks';
import type { PhotoAnalysis } from '../../core/count/countPhoto.ts';
import { inOneLine } from '../../core/faults/outcome.ts';
import type { Vector3 } from '../../core/geometry/point.ts';
import { isJsonObject } from '../../core/sync/json.ts';
import type { VisitChange, VisitCount } from '../../core/visit/countSchema.ts';
import type { VisitDocument } from '../../core/visit/visitSchema.ts';
import { photoOptions } from '../edits/photoOptions.ts';
import { addCorrection } from '../edits/visitEdits.ts';
import { analysis, edit, newId, nowIso, rows, settings, store } from '../state/app.ts';

const modules = import.meta.glob<{ CorrectPhoto: never }>('../correct/CorrectPhoto.tsx');
const CorrectPhoto = lazy(() => modules['../correct/CorrectPhoto.tsx']!().then((module) => module.CorrectPhoto)) as never as preact.FunctionComponent<any>;

interface CorrectingPhotoProps {
  readonly visit: VisitDocument;
  readonly count: Extract<VisitCount, { kind: 'photo' }>;
  readonly onDone: () => void;
}

/** Opens a counted photo for correction. The strip is made again from the photo; the plants are those once counted. */
export function CorrectingPhoto({ visit, count, onDone }: CorrectingPhotoProps) {
  const [opened, setOpened] = useState<{ photo: Blob; analysis: PhotoAnalysis } | null>(null);
  const [says, setSays] = useState('Straightening the row');
  // biome-ignore lint/correctness/useExhaustiveDependencies: once for each count
  useEffect(() => {
    const open = async () => {
      const { sha256 } = count.result.photo;
      const photo = (await store().get('photos', sha256))?.blob ?? (await fetched(sha256));
      if (photo === null) return setSays('The photo is on another device, and no network.');
      const row = rows.value.find((one) => one.kind === 'photo' && one.thing === sha256);
      const gravity = isJsonObject(row?.brief) && Array.isArray(row.brief.gravity) ? row.brief.gravity : null;
      const options = photoOptions(settings.value, visit.planting, gravity as unknown as Vector3 | null);
      if (!options.ok) return setSays(inOneLine(options));
      const made = await analysis.count(photo, count.result.photo.file, options.value, 'auto');
      if (!made.ok) return setSays(inOneLine(made));
      const result = count.result as unknown as PhotoAnalysis['result'];
      setOpened({ photo, analysis: { ...made.value, result } });
    };
    void open();
  }, [count.id]);
  if (opened === null) return <p role="status">{says}</p>;
  const corrections = (visit.corrections ?? []).filter((one) => one.countId === count.id);
  const record = (change: VisitChange) =>
    void edit('visit', visit.id, addCorrection(newId(), settings.value.name, nowIso(), count.id, change, undefined));
  return (
    <Suspense fallback={<p role="status">Opening</p>}>
      <CorrectPhoto
        photo={opened.photo}
        analysis={opened.analysis}
        corrections={corrections}
        by={settings.value.name}
        onCorrection={record}
        onDone={onDone}
      />
    </Suspense>
  );
}

async function fetched(sha256: string): Promise<Blob | null> {
  const answer = await fetch(`/api/photos/${sha256}`).catch(() => null);
  return answer?.ok ? answer.blob() : null;
}
