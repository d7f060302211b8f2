import { useEffect, useState } from 'preact/hooks';
import { dropRefusedPhotos, dropSentPhotos } from '../../browser/store/keepPhoto.ts';
import { LearningLinks } from '../learning/LearningLinks.tsx';
import { momentText } from '../parts/momentText.ts';
import { sizeText } from '../parts/sizeText.ts';
import { TextField } from '../parts/TextField.tsx';
import { troubleText } from '../parts/troubleText.ts';
import { entered, guarded, offlineReady, queueState, saveSettings, sendNow, settings, store } from '../state/app.ts';
import { hrefOf } from '../state/route.ts';

interface Room {
  readonly persisted: boolean | null;
  readonly usedBytes: number | null;
  readonly freeBytes: number | null;
}

/** Who uses this device, in which units, and what is kept on it. */
export function SettingsPage() {
  const [room, setRoom] = useState<Room>({ persisted: null, usedBytes: null, freeBytes: null });
  const [says, setSays] = useState('');
  const look = async () => {
    const storage = navigator.storage as StorageManager | undefined;
    const estimate = await storage?.estimate?.();
    const [used, quota] = [estimate?.usage ?? null, estimate?.quota ?? null];
    setRoom({
      persisted: (await storage?.persisted?.()) ?? null,
      usedBytes: used,
      freeBytes: used === null || quota === null ? null : quota - used,
    });
  };
  useEffect(() => {
    void look();
  }, []);
  const { waiting, counted, trouble, doneAt } = queueState.value;
  return (
    <>
      <h1>Settings</h1>
      <section class="card">
        <TextField
          label="Your name"
          value={settings.value.name}
          onChange={(name) => void (name.trim() !== '' && saveSettings({ name: name.trim() }))}
        />
        <TextField
          label="What you do"
          value={settings.value.role}
          placeholder="scout"
          hint="Goes into new visits; of others under Notes, People."
          onChange={(role) => void saveSettings({ role: role.trim() })}
        />
        <fieldset class="pick">
          <legend>Units of new visits</legend>
          {(['imperial', 'metric'] as const).map((units) => (
            <label key={units}>
              <input
                type="radio"
                name="units"
                checked={settings.value.units === units}
                onChange={() => void saveSettings({ units })}
              />
              {units === 'imperial' ? 'Feet, acres' : 'Metres, hectares'}
            </label>
          ))}
        </fieldset>
      </section>
      <a class="button wide" href={hrefOf('targets')}>
        Own targets
      </a>
      <section class="card">
        <h2>Sending</h2>
        <p>
          <strong>{waiting.records}</strong> {waiting.records === 1 ? 'entry' : 'entries'} and{' '}
          <strong>{waiting.photos}</strong> {waiting.photos === 1 ? 'photo' : 'photos'} waiting
          {waiting.photos > 0 && ` (${sizeText(waiting.photoBytes)})`}
        </p>
        <p class="small">
          {trouble !== null
            ? troubleText(trouble)
            : !counted || doneAt === null
              ? ''
              : `All was sent ${momentText(doneAt)}`}
        </p>
        {waiting.refused.map((reason) => (
          <p key={reason} class="wrong">
            Not taken by the server, kept here: {reason}
          </p>
        ))}
        {waiting.refusedPhotos > 0 && (
          <button
            type="button"
            onClick={() => void entered(() => dropRefusedPhotos(store(), null)).then(() => sendNow())}
          >
            Remove {waiting.refusedPhotos === 1 ? 'that file' : `those ${waiting.refusedPhotos} files`} from this device
          </button>
        )}
        <button type="button" onClick={() => void sendNow()}>
          Send now
        </button>
      </section>
      <section class="card">
        <h2>On this device</h2>
        <p>
          {offlineReady.value ? 'Opens and counts without network.' : 'Not all kept yet: stay online for a minute.'}
        </p>
        <p>
          {room.usedBytes === null ? 'Room not known' : `${sizeText(room.usedBytes)} used`}
          {room.freeBytes === null ? '' : `, ${sizeText(room.freeBytes)} free`}
        </p>
        <p>
          {room.persisted === true
            ? 'Kept for good: the browser will not clear it.'
            : 'The browser may clear it when the device is full.'}
        </p>
        {room.persisted === false && (
          <button
            type="button"
            onClick={() => {
              void navigator.storage.persist().then((kept) => {
                setSays(kept ? '' : 'The browser says no for now. Install the app, then ask again.');
                return look();
              });
            }}
          >
            Ask to keep it for good
          </button>
        )}
        <button
          type="button"
          onClick={() =>
            void guarded(async () => {
              setSays(`${sizeText(await dropSentPhotos(store()))} freed. The server has those photos.`);
              await look();
            })
          }
        >
          Remove photos already sent
        </button>
        <p role="status">{says}</p>
      </section>
      <LearningLinks />
      <section class="card">
        <h2>Archive</h2>
        <a class="button" href="/api/export" download>
          Export everything on the server
        </a>
        <p class="small">Needs the network. One zip: documents, photos, CSV, GeoJSON.</p>
      </section>
    </>
  );
}
