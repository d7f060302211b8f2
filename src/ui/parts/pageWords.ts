/** What only somebody at a command line can act on, or what names things by their ids, and what the page says instead. */
const INSTEAD: readonly (readonly [RegExp, string])[] = [
  [/ \(--[a-z-]+\)/g, ''],
  [/, as --mark \S+=\S+ --mark \S+?=[^\s.]+/g, ''],
  // What lies beside the row is chosen from a list here.
  [/ \((?:(?:tape|rod|frame):[^,)]+(?:, )?)+\)/g, ''],
  [/\b(mark) -?[\d.]+,-?[\d.]+ = (-?[\d.]+ m)\b/g, '$1 at $2'],
  [/lies outside the photo of \d+ x \d+ pixels: give pixels of the photo as you see it/g, 'lies outside the photo'],
  [/\bcheck its pixel and reading/g, 'check its place and reading'],
  [/\bcheck their pixels, readings\b/g, 'check their places, readings'],
  [/\bhead \S+ learned on .+?(?=[;:]|\. |$)/g, 'it was learned with another detector'],
  [/\bhead \S+(?= reads | is named |: its )/g, 'what was learned'],
  [/; wanted: one that learned on .+?(?=\. |$)/g, ''],
];

/** What the engine says, in this page's words. Counts kept from earlier versions carry the engine's words too. */
export function pageWords(said: string): string {
  return INSTEAD.reduce((now, [theirs, ours]) => now.replace(theirs, ours), said);
}
