import type { Trouble } from '../../browser/sync/runQueue.ts';
import { queueState, sendNow } from '../state/app.ts';
import { go } from '../state/route.ts';
import { plural } from './plural.ts';
import { sizeText } from './sizeText.ts';
import { isNoAnswer, troubleText } from './troubleText.ts';

/** Why nothing is heard of the server, as short as the bar is narrow. */
function whyNot(trouble: Trouble): string {
  if (isNoAnswer(trouble)) return 'No network';
  return trouble.code === 'not-signed-in' ? 'Not signed in' : 'Server in trouble';
}

/** How much is only on this device yet. A tap sends now. */
export function Waiting() {
  const { waiting, counted, running, trouble, sentBytes } = queueState.value;
  const count = waiting.records + waiting.photos - waiting.refused.length;
  if (count <= 0 && waiting.refused.length > 0) {
    return (
      <button type="button" class="waiting" onClick={() => go('settings')}>
        <span>
          <strong>{waiting.refused.length}</strong> not taken
        </span>{' '}
        <span class="small">see why</span>
      </button>
    );
  }
  // What was written a moment ago, or before the page opened, is not sent because nobody has looked.
  if (count <= 0 && !counted) return <p class="waiting waiting-none">Checking</p>;
  if (count <= 0) {
    return (
      <p class="waiting waiting-none" role="status">
        {trouble === null ? 'All sent' : whyNot(trouble)}
      </p>
    );
  }
  const left = Math.max(0, waiting.photoBytes - sentBytes);
  const photos = waiting.photos === 0 ? 'kept on this device' : `${plural(waiting.photos, 'photo')}, ${sizeText(left)}`;
  const stuck = running ? null : trouble;
  // Each line has to fit beside two names on the narrowest phone.
  return (
    <button
      type="button"
      class="waiting"
      onClick={() => void sendNow()}
      title={stuck === null ? 'Send now' : troubleText(stuck)}
    >
      <span>
        <strong>{count}</strong> {running ? 'being sent' : 'waiting'}
      </span>{' '}
      <span class="small">{stuck === null ? photos : isNoAnswer(stuck) ? 'for network' : 'for the server'}</span>
    </button>
  );
}
