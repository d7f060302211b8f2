import { useState } from 'preact/hooks';
import { rankCauses } from '../../core/diagnosis/rankCauses.ts';
import { isSignId, SIGNS, type SignId } from '../../core/diagnosis/signs.ts';
import type { VisitDocument } from '../../core/visit/visitSchema.ts';
import { setSign } from '../edits/noteEdits.ts';
import { edit } from '../state/app.ts';

const GROUPS = [
  ['pattern', 'Where in the field'],
  ['plant', 'On plants and seeds'],
  ['history', 'Weather and work before'],
] as const;

const ALL = Object.keys(SIGNS) as SignId[];
const CAUSES_SHOWN = 3;

/** Signs by tap, there or not there; what they speak for, and what to look for next. */
export function SignNotes({ visit }: { visit: VisitDocument }) {
  const [words, setWords] = useState('');
  const seen = (visit.signs?.seen ?? []).filter(isSignId);
  const notSeen = (visit.signs?.notSeen ?? []).filter(isSignId);
  const { ranked, nextSign } = rankCauses({ seen, notSeen });
  const wanted = words.toLowerCase().split(/\s+/).filter(Boolean);
  const line = (sign: SignId) => <SignLine key={sign} visit={visit} sign={sign} />;
  return (
    <>
      {ranked.length > 0 && (
        <section aria-live="polite">
          <h2>Likely</h2>
          <dl class="numbers">
            {ranked.slice(0, CAUSES_SHOWN).map(({ cause, share }) => (
              <div key={cause.id}>
                <dt>{cause.name}</dt>
                <dd>{Math.round(share * 100)} %</dd>
              </div>
            ))}
          </dl>
          <p class="small">Share of belief among known causes, not a measured chance.</p>
        </section>
      )}
      {nextSign !== null && (
        <section class="card">
          <h2>Look for this next</h2>
          {line(nextSign.sign)}
        </section>
      )}
      <label class="line">
        <span>Find a sign</span>
        <input type="search" value={words} onInput={(event) => setWords(event.currentTarget.value)} />
      </label>
      {wanted.length > 0
        ? ALL.filter((sign) => wanted.every((word) => SIGNS[sign].text.toLowerCase().includes(word))).map(line)
        : GROUPS.map(([kind, label]) => {
            const signs = ALL.filter((sign) => SIGNS[sign].kind === kind);
            const known = signs.filter((sign) => seen.includes(sign) || notSeen.includes(sign)).length;
            return (
              <details class="setup" key={kind} open={kind === 'pattern'}>
                <summary>
                  {label}
                  {known > 0 && `: ${known}`}
                </summary>
                {signs.map(line)}
              </details>
            );
          })}
    </>
  );
}

function SignLine({ visit, sign }: { visit: VisitDocument; sign: SignId }) {
  const { text } = SIGNS[sign];
  const now = visit.signs?.seen.includes(sign) ? true : visit.signs?.notSeen.includes(sign) ? false : null;
  const say = (isThere: boolean) => void edit('visit', visit.id, setSign(sign, now === isThere ? null : isThere));
  return (
    <fieldset class="sign">
      <legend>{text}</legend>
      <button type="button" aria-label={`Yes: ${text}`} aria-pressed={now === true} onClick={() => say(true)}>
        Yes
      </button>
      <button type="button" aria-label={`No: ${text}`} aria-pressed={now === false} onClick={() => say(false)}>
        No
      </button>
    </fieldset>
  );
}
