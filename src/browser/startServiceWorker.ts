/**
 * Registers the service worker and has it keep everything that counting needs. Tells whether all of it is kept: from
 * then on the app opens and counts without a network.
 */
export function startServiceWorker(onComplete: (complete: boolean) => void): void {
  if (!('serviceWorker' in navigator)) return;
  navigator.serviceWorker.addEventListener('message', ({ data }: MessageEvent<{ complete?: boolean }>) => {
    if (typeof data.complete === 'boolean') onComplete(data.complete);
  });
  const ask = async () => (await navigator.serviceWorker.ready).active?.postMessage('keep-large-files');
  void navigator.serviceWorker.register('/sw.js').then(ask, () => onComplete(false));
  addEventListener('online', () => void ask());
}
