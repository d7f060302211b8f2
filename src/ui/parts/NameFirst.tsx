import { useState } from 'preact/hooks';
import { saveSettings } from '../state/app.ts';

/** Every entry carries who made it: asked once. */
export function NameFirst() {
  const [name, setName] = useState('');
  return (
    <form
      class="card"
      onSubmit={(event) => {
        event.preventDefault();
        if (name.trim() !== '') void saveSettings({ name: name.trim() });
      }}
    >
      <label class="line">
        <span>Your name, for the entries you make</span>
        <input autocomplete="name" value={name} onInput={(event) => setName(event.currentTarget.value)} />
      </label>
      <button type="submit" class="main">
        That is me
      </button>
    </form>
  );
}
