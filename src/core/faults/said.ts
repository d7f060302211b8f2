/** What a text was made of: numbers and words, by name. */
export type SaidValues = Readonly<Record<string, number | string>>;

/** Something said in plain words, with its name and what it was made of: a program can say it in words of its own. */
export interface Said {
  readonly code: string;
  readonly message: string;
  readonly values?: SaidValues;
}
