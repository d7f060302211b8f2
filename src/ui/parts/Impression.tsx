import { useState } from 'preact/hooks';
import { addImpression } from '../edits/visitEdits.ts';
import { edit, newId, nowIso, settings } from '../state/app.ts';

const LEANINGS = [
  ['keep', 'Keep it'],
  ['wait', 'Wait'],
  ['replant', 'Replant'],
  ['unsure', 'Unsure'],
] as const;

/** Asked before any number is shown: what the eye said cannot be told from the count afterwards. */
export function Impression({ visit }: { visit: string }) {
  const [words, setWords] = useState('');
  const take = (leaning: (typeof LEANINGS)[number][0]) =>
    edit('visit', visit, addImpression(newId(), settings.value.name, nowIso(), leaning, words));
  return (
    <section class="card">
      <h2>Before the first count: what does your eye say?</h2>
      <label class="line">
        <span>In a few words (optional)</span>
        <input value={words} onInput={(event) => setWords(event.currentTarget.value)} />
      </label>
      <div class="choices">
        {LEANINGS.map(([leaning, label]) => (
          <button type="button" key={leaning} onClick={() => void take(leaning)}>
            {label}
          </button>
        ))}
      </div>
    </section>
  );
}
