import '../../../src/ui/style.css';
import { render } from 'preact';
import { useState } from 'preact/hooks';
import type { Correction, PhotoChange } from '../../../src/core/corrections/correction.ts';
import { replay } from '../../../src/core/corrections/replay.ts';
import type { CountResult } from '../../../src/core/count/countResult.ts';
import { CorrectPhoto } from '../../../src/ui/correct/CorrectPhoto.tsx';

/** The correcting view alone, with records kept in the page: what the app does with them, without the app. */
interface Kept {
  records: readonly Correction[];
  corrected: () => ReturnType<typeof replay>;
  done: boolean;
}

const answer = await fetch('./result.json');
const { result, floorPerM2 } = (await answer.json()) as { result: CountResult; floorPerM2: number | null };
const photo = await (await fetch('./photo.jpg')).blob();
const kept: Kept = { records: [], corrected: () => replay(result, kept.records), done: false };
(globalThis as unknown as { kept: Kept }).kept = kept;

function Page() {
  const [records, setRecords] = useState<readonly Correction[]>([]);
  const append = (change: PhotoChange) => {
    const record = { id: `k${kept.records.length}`, at: new Date().toISOString(), by: 'Ann Field', change };
    kept.records = [...kept.records, record];
    setRecords(kept.records);
  };
  return (
    <CorrectPhoto
      photo={photo}
      // As an app does that reads its document anew at every edit.
      result={structuredClone(result)}
      strip={null}
      corrections={structuredClone(records)}
      by="Ann Field"
      floorPerM2={floorPerM2}
      onChange={append}
      onDone={() => {
        kept.done = true;
      }}
    />
  );
}

render(<Page />, document.getElementById('app')!);
