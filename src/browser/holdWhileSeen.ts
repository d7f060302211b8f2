/** The page, as far as it tells whether somebody sees it. */
type Page = Pick<Document, 'visibilityState' | 'addEventListener' | 'removeEventListener'>;

/**
 * Holds something ready while the page is in view. Out of view its memory is the phone's: the camera's own app, opened
 * from the page, needs the room. Returns how to end it.
 *
 * @param hold answers how to let go.
 */
export function holdWhileSeen(hold: () => () => void, page: Page = document): () => void {
  let release: (() => void) | null = null;
  const letGo = () => {
    release?.();
    release = null;
  };
  const follow = () => {
    if (page.visibilityState === 'visible') release ??= hold();
    else letGo();
  };
  follow();
  page.addEventListener('visibilitychange', follow);
  return () => {
    page.removeEventListener('visibilitychange', follow);
    letGo();
  };
}
