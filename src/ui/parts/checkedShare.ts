/** How many of a photo's marks a person has looked at, as the engine words it in the count's method; null: none. */
export function checkedShare(result: { readonly count: { readonly method?: string | undefined } }): string | null {
  return /; (every mark|\d+ of \d+ marks) checked by/.exec(result.count.method ?? '')?.[1] ?? null;
}

export const EVERY_MARK = 'every mark';
