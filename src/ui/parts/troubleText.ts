import type { Trouble } from '../../browser/sync/runQueue.ts';

export const isNoAnswer = ({ code }: Trouble): boolean => code === 'no-answer';

/** Why sending does not go on, in plain words: browsers say of a cut line only that fetching failed. */
export function troubleText(trouble: Trouble): string {
  return isNoAnswer(trouble)
    ? 'No answer from the server: no network here, or the server is off. It is tried again by itself.'
    : trouble.message;
}
