/** A number with its word: `1 spot`, `3 spots`. */
export function plural(n: number, one: string, many = `${one}s`): string {
  return `${n} ${wordFor(n, one, many)}`;
}

/** The word alone, where the number stands apart from it. */
export function wordFor(n: number, one: string, many = `${one}s`): string {
  return n === 1 ? one : many;
}
