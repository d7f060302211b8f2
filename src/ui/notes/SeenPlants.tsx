import { useState } from 'preact/hooks';
import { judgePlant } from '../../core/damage/growingPoint.ts';
import type { VisitDamage, VisitDocument } from '../../core/visit/visitSchema.ts';
import { addSeen, seenBy } from '../edits/noteEdits.ts';
import { wordFor } from '../parts/plural.ts';
import { Stepper } from '../parts/Stepper.tsx';
import { edit, pending, settings } from '../state/app.ts';
import { hrefOf } from '../state/route.ts';
import { FINDINGS, type Finding, seenPlants } from './findings.ts';

const BECOMES = {
  growing: 'lives',
  'buds alive': 'lives by a bud',
  doubtful: 'cannot tell yet',
  dead: 'dead',
} as const;

/** Hurt plants as they come along the row, one tap each by what is seen; each tap is kept at once. */
export function SeenPlants({ visit, damage }: { visit: VisitDocument; damage: VisitDamage }) {
  const [taps, setTaps] = useState<readonly Finding[]>([]);
  const note = ({ id, signs }: Finding, plants: 1 | -1) =>
    void edit('visit', visit.id, addSeen(damage.id, id, signs, settings.value.name, plants));
  const last = taps.at(-1);
  return (
    <section class="tally">
      <h1>{damage.hazard}, plant by plant</h1>
      <p class="big" aria-live="polite" data-testid="seen" data-kept={pending.value === 0}>
        {seenPlants(damage)}
        <span class="small"> {wordFor(seenPlants(damage), 'plant')}</span>
      </p>
      <div class="findings">
        {FINDINGS.map((finding) => (
          <button
            key={finding.id}
            type="button"
            onClick={() => {
              note(finding, 1);
              setTaps([...taps, finding]);
            }}
          >
            <span>{finding.label}</span>
            <strong>{seenPlants(damage, finding.signs)}</strong>
            <span class="small">{BECOMES[judgePlant(finding.signs).state]}</span>
          </button>
        ))}
      </div>
      <details class="setup">
        <summary>Put a number right</summary>
        {FINDINGS.map((finding) => {
          const own = seenBy(damage, finding, settings.value.name);
          const put = (n: number) => note(finding, n > own ? 1 : -1);
          return <Stepper key={finding.id} label={finding.label} value={own} onChange={put} />;
        })}
      </details>
      <div class="choices take-back">
        <button
          type="button"
          disabled={last === undefined}
          onClick={() => {
            if (last === undefined) return;
            note(last, -1);
            setTaps(taps.slice(0, -1));
          }}
        >
          {last === undefined ? 'Take back' : `Take back: ${last.label}`}
        </button>
        <a class="button main" href={hrefOf('visit', visit.id, 'notes', 'damage')}>
          Done here
        </a>
      </div>
    </section>
  );
}
