/** Something expected did not work out, in plain words. */
export interface Cannot {
  readonly ok: false;
  /** Stable name of the case, for programs. */
  readonly code: string;
  readonly found: string;
  readonly wanted: string;
  /** What the person can do next. */
  readonly next: string;
}

/** A value, or the reason why there is none. */
export type Outcome<T> = { readonly ok: true; readonly value: T } | Cannot;

export function good<T>(value: T): Outcome<T> {
  return { ok: true, value };
}

export function cannot(code: string, found: string, wanted: string, next: string): Cannot {
  return { ok: false, code, found, wanted, next };
}

/** The refusal in one line: what was found, what was wanted, what to do. */
export function inOneLine(refusal: Cannot): string {
  return `${refusal.found}; wanted: ${refusal.wanted}. ${refusal.next}`;
}
