/** Market classes of dry bean that the tables know by name. Any other name is a class of the organisation's own. */
export const MARKET_CLASSES = [
  'navy',
  'black',
  'pinto',
  'great northern',
  'kidney',
  'cranberry',
  'pink',
  'small red',
] as const;

export type MarketClass = (typeof MARKET_CLASSES)[number];

/** Small-seeded classes run above 2,000 seeds to the pound (NDSU A1133). */
export type SeedGroup = 'small-seeded' | 'large-seeded';

const GROUPS: Readonly<Record<MarketClass, SeedGroup>> = {
  navy: 'small-seeded',
  black: 'small-seeded',
  pinto: 'large-seeded',
  'great northern': 'large-seeded',
  kidney: 'large-seeded',
  cranberry: 'large-seeded',
  pink: 'large-seeded',
  'small red': 'large-seeded',
};

/** The table's name for a class as people write it (`Navy beans`, `light red kidney`); null for a class of one's own. */
export function marketClassOf(words: string): MarketClass | null {
  const name = plainClassName(words);
  return MARKET_CLASSES.find((known) => name === known || name.endsWith(` ${known}`)) ?? null;
}

export function seedGroupOf(marketClass: MarketClass): SeedGroup {
  return GROUPS[marketClass];
}

/** Lower case, single spaces, without "bean" or "beans" behind it: what class names are compared by. */
export function plainClassName(words: string): string {
  return words
    .trim()
    .toLowerCase()
    .replace(/\s+/g, ' ')
    .replace(/ ?beans?$/, '');
}
