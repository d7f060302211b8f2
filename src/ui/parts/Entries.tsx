import type { ComponentChildren } from 'preact';
import { stopAtWrong } from './stopAtWrong.ts';

interface Entry {
  readonly id: string;
  readonly says: ComponentChildren;
  /** What goes with it when it is removed, for people who hear the page. */
  readonly name: string;
  readonly onRemove: () => void;
}

/** What was entered so far, each with a way to take it out again. */
export function EntryList({ entries }: { entries: readonly Entry[] }) {
  return (
    <ul class="list">
      {entries.map(({ id, says, name, onRemove }) => (
        <li key={id} class="entry">
          <span>{says}</span>
          <button type="button" aria-label={`Remove ${name}`} onClick={onRemove}>
            Remove
          </button>
        </li>
      ))}
    </ul>
  );
}

interface AddEntryProps {
  /** What is added, such as `count`. */
  readonly what: string;
  /** Whether all that is needed is there and good. */
  readonly isWhole: boolean;
  readonly onAdd: () => void;
  readonly children: ComponentChildren;
}

/** The fields of one more entry, and the button that adds it; Enter adds it too. */
export function AddEntry({ what, isWhole, onAdd, children }: AddEntryProps) {
  return (
    <form
      class="card form"
      onSubmit={(event) => {
        event.preventDefault();
        if (isWhole && !stopAtWrong(event.currentTarget)) onAdd();
      }}
    >
      <h2>Add a {what}</h2>
      {children}
      <button type="submit" class="main" disabled={!isWhole}>
        Add the {what}
      </button>
    </form>
  );
}
