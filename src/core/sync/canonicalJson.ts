import { isJsonObject, type Json } from './json.ts';

/**
 * One text for one value: keys sorted by UTF-16 code units, no white space, numbers as ECMAScript prints them.
 * Equal documents give equal text, so the text can be hashed. Source: RFC 8785, JSON Canonicalization Scheme (2020).
 */
export function canonicalJson(value: Json): string {
  if (Array.isArray(value)) return `[${value.map(canonicalJson).join(',')}]`;
  if (isJsonObject(value)) {
    const parts = Object.keys(value)
      .sort()
      .map((key) => `${JSON.stringify(key)}:${canonicalJson(value[key] as Json)}`);
    return `{${parts.join(',')}}`;
  }
  return JSON.stringify(value);
}
