import { useState } from 'preact/hooks';
import { verdictNumbers, verdictPlace } from '../../core/report/verdictNumbers.ts';
import { verdictSections } from '../../core/report/verdictSections.ts';
import { verdictBecause, verdictTitle } from '../../core/report/verdictTitle.ts';
import { namedSpots } from '../edits/namedSpots.ts';
import { addDecision } from '../edits/visitEdits.ts';
import { CHOICES } from '../parts/choices.ts';
import { momentText } from '../parts/momentText.ts';
import { NotHere } from '../parts/NotHere.tsx';
import { NumberLines } from '../parts/NumberLines.tsx';
import { PhotoView } from '../parts/PhotoView.tsx';
import { StandRule } from '../parts/StandRule.tsx';
import { unbroken } from '../parts/unbroken.ts';
import { useAssessment, useVisit } from '../parts/useVisit.ts';
import { edit, newId, nowIso, settings } from '../state/app.ts';
import { hrefOf } from '../state/route.ts';

/** The verdict: numbers, reasons, what would change it, cautions. Prints as it stands. */
export function VerdictPage({ id }: { id: string }) {
  const shown = useVisit(id);
  const assessment = useAssessment(shown);
  const [words, setWords] = useState('');
  if (shown === null) return <p class="quiet">Opening</p>;
  if (shown === 'none') return <NotHere what="visit" />;
  if (assessment === null) {
    return (
      <>
        <p class="trouble">Not assessed: {shown.problem}</p>
        <a class="button main wide" href={hrefOf('visit', id)}>
          Back to the walk
        </a>
      </>
    );
  }
  const { visit } = shown;
  const title = verdictTitle(assessment.decision.verdict);
  const decided = visit.decisions?.at(-1);
  // A photo counted twice, or at two spots, is one picture.
  const photos = [...new Map(assessment.photos.map((photo) => [photo.sha256, photo])).values()];
  return (
    <article class="verdict">
      <h1 data-testid="verdict">{title}</h1>
      <p class="small">{unbroken(verdictPlace(assessment))}</p>
      <p class="because">{verdictBecause(assessment.decision)}</p>
      <StandRule assessment={assessment} />
      <NumberLines lines={verdictNumbers(assessment)} />
      {verdictSections(assessment).map((section) => {
        const List = section.numbered ? 'ol' : 'ul';
        return (
          <section key={section.title} class={section.title === 'Cautions' ? 'cautions' : ''}>
            <h2>{section.title}</h2>
            <List>
              {section.lines.map((line) => (
                <li key={line}>{unbroken(namedSpots(line, visit))}</li>
              ))}
            </List>
          </section>
        );
      })}
      {photos.length > 0 && (
        <section>
          <h2>Photos</h2>
          <div class="photos">
            {photos.map((photo) => (
              <PhotoView key={photo.sha256} sha256={photo.sha256} side={640} alt={`Row photo ${photo.file}`} />
            ))}
          </div>
        </section>
      )}
      {decided !== undefined && (
        <section>
          <h2>Decided</h2>
          <p>
            <strong>{CHOICES.find(([choice]) => choice === decided.choice)?.[1] ?? decided.choice}</strong>,{' '}
            {visit.people.find((one) => one.id === decided.by)?.name ?? decided.by}, {momentText(decided.at)}
            {decided.words !== undefined && `: ${decided.words}`}
          </p>
        </section>
      )}
      <section class="screen-only">
        <h2>{decided === undefined ? 'Your decision' : 'Decide anew'}</h2>
        <label class="line">
          <span>Why, in a few words (optional)</span>
          <input value={words} onInput={(event) => setWords(event.currentTarget.value)} />
        </label>
        <div class="choices">
          {CHOICES.map(([choice, label]) => (
            <button
              type="button"
              key={choice}
              aria-pressed={decided?.choice === choice}
              disabled={settings.value.name === ''}
              onClick={() =>
                void edit('visit', id, addDecision(newId(), settings.value.name, nowIso(), choice, title, words))
              }
            >
              {label}
            </button>
          ))}
        </div>
      </section>
      <div class="choices screen-only">
        <button type="button" onClick={() => print()}>
          Print
        </button>
        <a class="button main" href={hrefOf('visit', id)}>
          Back to the walk
        </a>
      </div>
    </article>
  );
}
