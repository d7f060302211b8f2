/** A seeded stream of random numbers with the few distributions the scenes need. */
export type Random = {
  /** Uniform in [0, 1). */
  readonly next: () => number;
  /** Uniform in [low, high). */
  readonly between: (low: number, high: number) => number;
  /** Whole number in [low, high]. */
  readonly whole: (low: number, high: number) => number;
  /** Normal with this mean and standard deviation, cut at 2.8 SD. */
  readonly normal: (mean: number, sd: number) => number;
  readonly chance: (probability: number) => boolean;
  readonly pick: <T>(items: readonly T[]) => T;
  /** An independent stream, so that one more straw does not move the plants. */
  readonly fork: (label: string) => Random;
};

/** Mulberry32 (T. Ettinger, public domain): 32 bits of state, plenty for scattering leaves. */
export function seededRandom(seed: number): Random {
  let state = seed >>> 0;
  const next = (): number => {
    state = (state + 0x6d2b79f5) >>> 0;
    let t = state;
    t = Math.imul(t ^ (t >>> 15), t | 1);
    t ^= t + Math.imul(t ^ (t >>> 7), t | 61);
    return ((t ^ (t >>> 14)) >>> 0) / 4294967296;
  };
  const between = (low: number, high: number): number => low + (high - low) * next();
  const normal = (mean: number, sd: number): number => {
    const u = Math.max(1e-9, next());
    const z = Math.sqrt(-2 * Math.log(u)) * Math.cos(2 * Math.PI * next());
    return mean + sd * Math.max(-2.8, Math.min(2.8, z));
  };
  return {
    next,
    between,
    normal,
    whole: (low, high) => Math.floor(between(low, high + 1)),
    chance: (probability) => next() < probability,
    pick: (items) => items[Math.floor(next() * items.length)] as (typeof items)[number],
    fork: (label) => seededRandom(hashText(label, seed)),
  };
}

/** FNV-1a over the label, started from the seed. */
export function hashText(text: string, seed: number): number {
  let hash = (0x811c9dc5 ^ seed) >>> 0;
  for (let i = 0; i < text.length; i++) hash = Math.imul(hash ^ text.charCodeAt(i), 0x01000193) >>> 0;
  return Math.imul(hash ^ (hash >>> 15), 0x2c1b3c6d) >>> 0;
}
