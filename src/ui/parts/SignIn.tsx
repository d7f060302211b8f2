import { useState } from 'preact/hooks';
import { sendNow } from '../state/app.ts';
import { client } from '../state/server.ts';

/** Asks for the server's passphrase when it wants one. Work goes on without: it waits on the device. */
export function SignIn() {
  const [passphrase, setPassphrase] = useState('');
  const [answer, setAnswer] = useState('');
  const submit = async (event: Event) => {
    event.preventDefault();
    const told = await client.api.session.$post({ json: { passphrase } }).catch(() => null);
    if (told?.ok) {
      setAnswer('');
      await sendNow();
    } else setAnswer(told === null ? 'No network.' : 'That is not the passphrase.');
  };
  return (
    <form class="card" onSubmit={(event) => void submit(event)}>
      <label class="line">
        <span>Passphrase of this server</span>
        <input
          type="password"
          autocomplete="current-password"
          value={passphrase}
          onInput={(event) => setPassphrase(event.currentTarget.value)}
        />
      </label>
      <button type="submit" class="main">
        Sign in
      </button>
      <p role="status">{answer}</p>
    </form>
  );
}
