import type { Head } from '../../core/learning/head.ts';
import { type HeadShelf, headInUse } from '../../core/learning/headShelf.ts';
import { momentText } from '../parts/momentText.ts';
import { plural } from '../parts/plural.ts';
import { putIntoUse } from './learning.ts';

const STOCK = 'stock';

/** What the next counts use, with the way back to the stock detector or to an earlier head. */
export function InUse({ farm, shelf }: { farm: string; shelf: HeadShelf }) {
  const now = headInUse(shelf)?.id ?? STOCK;
  const choices = [
    { id: STOCK, says: 'Stock detector' },
    ...shelf.heads.map((head) => ({ id: head.id, says: told(head) })),
  ];
  return (
    <section class="card">
      <fieldset class="pick">
        <legend>New counts use</legend>
        {choices.map(({ id, says }) => (
          <label key={id}>
            <input
              type="radio"
              name="head"
              checked={now === id}
              onChange={() => void putIntoUse(farm, id === STOCK ? null : id)}
            />
            {says}
          </label>
        ))}
      </fieldset>
      {shelf.changes.length > 0 && (
        <p class="small">
          Last changed by {shelf.changes.at(-1)!.by}, {momentText(shelf.changes.at(-1)!.at)}
        </p>
      )}
    </section>
  );
}

function told({ trainedAt, photos, examples, id }: Head): string {
  return `Learned ${momentText(trainedAt)} from ${plural(photos, 'photo')}, ${plural(examples, 'mark')} (${id})`;
}
