/** No frame comes so late that a step should wait for it longer. */
const LONGEST_MS = 50;

/**
 * Resolves once the page has drawn what a touch changed: copying a document to the disk can wait that long, an answer
 * cannot. At once where nobody sees the page, or as soon as it is left.
 */
export function afterFrame(): Promise<void> {
  if (document.visibilityState !== 'visible') return Promise.resolve();
  return new Promise((resolve) => {
    const done = () => {
      document.removeEventListener('visibilitychange', done);
      clearTimeout(timer);
      resolve();
    };
    const timer = setTimeout(done, LONGEST_MS);
    document.addEventListener('visibilitychange', done);
    requestAnimationFrame(() => setTimeout(done));
  });
}
