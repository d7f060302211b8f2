import { computed, signal } from '@preact/signals';

const hash = signal(location.hash);
addEventListener('hashchange', () => {
  hash.value = location.hash;
});

/** The parts of the address behind #/, decoded. */
export const route = computed<readonly string[]>(() =>
  hash.value
    .replace(/^#\/?/, '')
    .split('/')
    .filter((part) => part !== '')
    .map(decodeURIComponent),
);

export function hrefOf(...parts: readonly string[]): string {
  return `#/${parts.map(encodeURIComponent).join('/')}`;
}

export function go(...parts: readonly string[]): void {
  location.hash = hrefOf(...parts);
}
