/** What a key asks for. Each has one plain key, shown on its button. */
export type Wish =
  | 'keep'
  | 'not a plant'
  | 'weed'
  | 'two plants'
  | 'hurt'
  | 'next'
  | 'before'
  | 'merge'
  | 'add'
  | 'put'
  | 'undo'
  | 'redo'
  | 'other view'
  | 'nearer'
  | 'farther'
  | 'whole'
  | 'stop'
  | { readonly move: readonly [x: number, y: number]; readonly far: boolean }
  | { readonly pan: readonly [x: number, y: number] };

const PLAIN: Readonly<Record<string, Wish>> = {
  k: 'keep',
  x: 'not a plant',
  w: 'weed',
  t: 'two plants',
  h: 'hurt',
  n: 'next',
  b: 'before',
  o: 'merge',
  a: 'add',
  u: 'undo',
  r: 'redo',
  v: 'other view',
  '+': 'nearer',
  '=': 'nearer',
  '-': 'farther',
  '0': 'whole',
  escape: 'stop',
};

const ARROWS: Readonly<Record<string, readonly [number, number]>> = {
  arrowleft: [-1, 0],
  arrowright: [1, 0],
  arrowup: [0, -1],
  arrowdown: [0, 1],
};

interface Pressed {
  readonly key: string;
  readonly ctrlKey: boolean;
  readonly metaKey: boolean;
  readonly altKey: boolean;
  readonly shiftKey: boolean;
}

/** The wish behind a key; null for keys that are the browser's or the page's own. */
export function wishOf({ key, ctrlKey, metaKey, altKey, shiftKey }: Pressed): Wish | null {
  const name = key.toLowerCase();
  if (ctrlKey || metaKey) {
    if (name === 'z') return shiftKey ? 'redo' : 'undo';
    return name === 'y' ? 'redo' : null;
  }
  const arrow = ARROWS[name];
  if (arrow !== undefined) return altKey ? { pan: arrow } : { move: arrow, far: shiftKey };
  if (altKey) return null;
  if (name === 'enter') return 'put';
  return PLAIN[name] ?? null;
}
