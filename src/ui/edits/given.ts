/** A record without the entries that say nothing: undefined, or text that is empty. */
export function given<T extends object>(parts: { readonly [K in keyof T]: T[K] | undefined }): Partial<T> {
  const said = Object.entries(parts).filter(
    ([, value]) => value !== undefined && !(typeof value === 'string' && value.trim() === ''),
  );
  return Object.fromEntries(said) as Partial<T>;
}
