/** What a person can decide of a stand, with its words. */
export const CHOICES = [
  ['keep', 'Keep'],
  ['wait', 'Wait'],
  ['recount', 'Recount'],
  ['replant', 'Replant'],
] as const;
