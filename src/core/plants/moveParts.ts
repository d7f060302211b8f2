import type { Grouper, GroupJudge, PartGroup } from './partGroup.ts';

/** A division this good already needs few moves; the bound only guards the time. */
const MOST_MOVES = 20;
/** The distances between neighbours can gain at most about this much by one move. */
const MOST_BY_NEIGHBOURS = 2.4;

/**
 * Moves single parts to a linked group, takes single parts off, and joins linked groups: each time the move that gains
 * most, until none gains (steepest ascent on the likelihood of the whole).
 */
export function moveParts(
  start: readonly PartGroup[],
  links: readonly { readonly a: number; readonly b: number }[],
  together: Grouper,
  judge: GroupJudge,
  total: (groups: readonly PartGroup[]) => number,
): readonly PartGroup[] {
  let groups = start;
  let score = total(groups);
  for (let move = 0; move < MOST_MOVES; move++) {
    let next: readonly PartGroup[] | null = null;
    let nextScore = score + 1e-9;
    for (const [gone, come] of changes(groups, links, together)) {
      let least = score + MOST_BY_NEIGHBOURS;
      for (const g of gone) least -= judge(g);
      for (const g of come) least += judge(g);
      if (least <= nextScore) continue;
      const changed = [...groups.filter((g) => !gone.includes(g)), ...come];
      const value = total(changed);
      if (value <= nextScore) continue;
      next = changed;
      nextScore = value;
    }
    if (next === null) break;
    groups = next;
    score = nextScore;
  }
  return groups;
}

/** All single moves, as the groups that go and those that come; some come twice. */
function changes(
  groups: readonly PartGroup[],
  links: readonly { readonly a: number; readonly b: number }[],
  together: Grouper,
): readonly (readonly [gone: readonly PartGroup[], come: readonly PartGroup[]])[] {
  const out: (readonly [readonly PartGroup[], readonly PartGroup[]])[] = [];
  const owner = new Map<number, PartGroup>();
  for (const g of groups) for (const p of g.parts) owner.set(p.id, g);
  const rest = (g: PartGroup, id: number): readonly PartGroup[] => {
    const left = g.parts.filter((p) => p.id !== id);
    return left.length === 0 ? [] : [together(left)];
  };
  const seen = new Set<number>();
  const isNew = (key: number): boolean => !seen.has(key) && seen.add(key) !== null;
  const move = (id: number, from: PartGroup, to: PartGroup): void => {
    if (!isNew(id * 65536 + to.parts[0]!.id)) return;
    const part = from.parts.filter((p) => p.id === id);
    out.push([
      [from, to],
      [...rest(from, id), together([...to.parts, ...part])],
    ]);
  };
  for (const { a, b } of links) {
    const ga = owner.get(a)!;
    const gb = owner.get(b)!;
    if (ga === gb) continue;
    move(a, ga, gb);
    move(b, gb, ga);
    const [p, q] = [ga.parts[0]!.id, gb.parts[0]!.id];
    if (isNew(-1 - (Math.min(p, q) * 65536 + Math.max(p, q))))
      out.push([[ga, gb], [together([...ga.parts, ...gb.parts])]]);
  }
  for (const g of groups) {
    if (g.parts.length > 1) for (const p of g.parts) out.push([[g], [together([p]), ...rest(g, p.id)]]);
  }
  return out;
}
