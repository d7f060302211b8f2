import { queueState, sendNow } from '../state/app.ts';
import { plural } from './plural.ts';
import { sizeText } from './sizeText.ts';

/** How much is only on this device yet. A tap sends now. */
export function Waiting() {
  const { waiting, running, trouble, sentBytes } = queueState.value;
  const count = waiting.records + waiting.photos;
  if (count === 0) {
    return (
      <p class="waiting waiting-none" role="status">
        {trouble === null ? 'All sent' : 'No network'}
      </p>
    );
  }
  const left = Math.max(0, waiting.photoBytes - sentBytes);
  const photos = waiting.photos === 0 ? '' : `${plural(waiting.photos, 'photo')}, ${sizeText(left)}`;
  const state = running ? 'being sent' : trouble === null ? 'waiting' : 'waiting for network';
  return (
    <button type="button" class="waiting" onClick={() => void sendNow()} title={trouble?.message ?? 'Send now'}>
      <span>
        <strong>{count}</strong> {state}
      </span>
      <span class="small">{photos === '' ? 'kept on this device' : photos}</span>
    </button>
  );
}
