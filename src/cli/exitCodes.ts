/** What the command's exit status says. */
export const EXIT = {
  done: 0,
  failed: 1,
  usage: 2,
  unreadable: 3,
  noReference: 4,
} as const;
