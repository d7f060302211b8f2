import type { LengthSystem } from '../../core/units/formatLength.ts';

export type SizedKind = 'tape' | 'rod' | 'bands' | 'frame';

/** What lies beside the row, with the size that a person gave it; sides of a frame: along the row, across it. */
export interface SizedReference {
  readonly kind: SizedKind;
  readonly sizes: readonly string[];
}

/** As `parseReference` reads them; the longer one first, for both begin with `rod:`. */
const BEGINS: readonly (readonly [SizedKind, string])[] = [
  ['bands', 'rod:banded:'],
  ['rod', 'rod:'],
  ['tape', 'tape:'],
  ['frame', 'frame:'],
];

/** Common sizes to begin with. */
export const FIRST_SIZES: Readonly<Record<SizedKind, Readonly<Record<LengthSystem, readonly string[]>>>> = {
  tape: { imperial: ['10 ft'], metric: ['3 m'] },
  rod: { imperial: ['8 ft'], metric: ['3 m'] },
  bands: { imperial: ['1 ft'], metric: ['20 cm'] },
  frame: { imperial: ['2 ft', '2 ft'], metric: ['50 cm', '50 cm'] },
};

/** A kept reference as kind and sizes; null where no size belongs to it. */
export function sizedReference(text: string): SizedReference | null {
  const [kind, begin] = BEGINS.find(([, start]) => text.startsWith(start)) ?? [];
  if (kind === undefined || begin === undefined || text === 'tape:in' || text === 'tape:cm') return null;
  const size = text.slice(begin.length).trim();
  return { kind, sizes: kind === 'frame' ? size.split(/\s*[x×]\s*(?=[\d.])/) : [size] };
}

/** As it is kept. The space tells a size that was typed from one of the list's own, which have none. */
export const referenceText = ({ kind, sizes }: SizedReference): string =>
  `${BEGINS.find(([one]) => one === kind)![1]} ${sizes.join(' x ')}`;

/** In a few words. */
export function sizedWords({ kind, sizes }: SizedReference): string {
  const size = sizes.join(' x ');
  switch (kind) {
    case 'tape':
      return `Tape of ${size}`;
    case 'rod':
      return `Rod of ${size}`;
    case 'bands':
      return `Rod with bands of ${size}`;
    case 'frame':
      return `Frame ${size}`;
  }
}
