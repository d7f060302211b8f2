import { canonicalJson } from '../../core/sync/canonicalJson.ts';
import { settleConflict } from '../../core/sync/editThing.ts';
import { isJsonObject, type Json } from '../../core/sync/json.ts';
import type { Conflict } from '../../core/sync/mergeRecords.ts';
import { addCorrection } from '../edits/visitEdits.ts';
import { edit, newId, nowIso, settings, settle } from '../state/app.ts';

/** What two people entered differently, side by side. Both stay in the history; one tap says which holds. */
export function Conflicts({ visit, conflicts }: { visit: string; conflicts: readonly Conflict[] }) {
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
      <h2>{conflicts.length} entered differently</h2>
      {conflicts.map((conflict) => (
        <div key={conflict.path + conflict.sides.map((side) => side.record).join()}>
          <p class="small">{placeText(conflict.path)}</p>
          <div class="sides">
            {conflict.sides.map((side, i) => (
              <button type="button" key={side.record} onClick={() => void choose(conflict, i)}>
                <strong>{valueText(side.value)}</strong>
                <span class="small">
                  {side.author}, {side.at.slice(0, 16).replace('T', ' ')}
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
    const same = list.find((one: Json) => isJsonObject(one) && canonicalJson(one.change ?? null) === canonicalJson(value));
    const countId = isJsonObject(same) ? String(same.countId) : '';
    return addCorrection(newId(), settings.value.name, nowIso(), countId, value as never, conflict.path)(document);
  });
}

function placeText(path: string): string {
  return path
    .split('/')
    .filter((part) => part !== '')
    .map((part) => part.replace(/[[\]]/g, '').slice(0, 24))
    .join(' / ');
}

function valueText(value: Json | undefined): string {
  if (value === undefined) return 'removed';
  return typeof value === 'string' ? value : JSON.stringify(value).slice(0, 80);
}
