import { canonicalJson } from '../../core/sync/canonicalJson.ts';
import { settleConflict } from '../../core/sync/editThing.ts';
import { isJsonObject, type Json } from '../../core/sync/json.ts';
import type { Conflict } from '../../core/sync/mergeRecords.ts';
import { addCorrection } from '../edits/visitEdits.ts';
import { edit, newId, nowIso, settings, settle } from '../state/app.ts';
import { momentText } from './momentText.ts';
import { plural } from './plural.ts';

interface ConflictsProps {
  readonly visit: string;
  /** Ids of the spots in the order in which they are numbered. */
  readonly spots: readonly string[];
  readonly conflicts: readonly Conflict[];
}

/** What two people entered differently, side by side. Both stay in the history; one tap says which holds. */
export function Conflicts({ visit, spots, conflicts }: ConflictsProps) {
  if (conflicts.length === 0) return null;
  const choose = async (conflict: Conflict, side: number) => {
    const value = conflict.sides[side]?.value;
    if (conflict.path !== '/corrections') {
      await settle('visit', visit, (now) => {
        const still = now.conflicts.find((one) => one.path === conflict.path);
        return still === undefined ? [] : settleConflict(now, still, Math.min(side, still.sides.length - 1));
      });
      return;
    }
    await settleCorrection(visit, conflict, value ?? null);
  };
  return (
    <section class="card conflict" aria-label="Entered differently">
      <h2>{plural(conflicts.length, 'thing')} entered differently</h2>
      {conflicts.map((conflict) => (
        <div key={conflict.path + conflict.sides.map((side) => side.record).join()}>
          <p>{placeText(conflict.path, spots)}</p>
          <div class="sides">
            {conflict.sides.map((side, i) => (
              <button type="button" key={side.record} onClick={() => void choose(conflict, i)}>
                <strong>{valueText(side.value)}</strong>
                <span class="small">
                  {side.author}, {momentText(side.at)}
                  {i === 0 ? ' (stands now)' : ''}
                </span>
              </button>
            ))}
          </div>
        </div>
      ))}
    </section>
  );
}

async function settleCorrection(visit: string, conflict: Conflict, value: Json): Promise<void> {
  // Said once more by somebody who has seen both: that settles it.
  await edit('visit', visit, (document) => {
    const list = isJsonObject(document) && Array.isArray(document.corrections) ? document.corrections : [];
    const same = list.find(
      (one: Json) => isJsonObject(one) && canonicalJson(one.change ?? null) === canonicalJson(value),
    );
    const countId = isJsonObject(same) ? String(same.countId) : '';
    return addCorrection(newId(), settings.value.name, nowIso(), countId, value as never, conflict.path)(document);
  });
}

/** `/spots/[spot-1]/counts/[c1]/plants` as people say it: Spot 1, plants. */
function placeText(path: string, spots: readonly string[]): string {
  const spot = /^\/spots\/\[([^\]]+)\]/.exec(path)?.[1];
  const last = path
    .split('/')
    .filter((part) => part !== '' && !part.startsWith('['))
    .at(-1);
  const words = (last ?? 'the whole').replace(/([A-Z])/g, ' $1').toLowerCase();
  return spot === undefined ? words : `Spot ${spots.indexOf(spot) + 1}, ${words}`;
}

function valueText(value: Json | undefined): string {
  if (value === undefined) return 'removed';
  if (typeof value === 'string') return value;
  if (Array.isArray(value) && value.every((one) => typeof one !== 'object')) return value.join(' + ');
  if (isJsonObject(value) && typeof value.kind === 'string') return value.kind;
  return JSON.stringify(value).slice(0, 80);
}
