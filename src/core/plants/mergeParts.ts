import type { LeafPart } from './leafParts.ts';
import type { Grouper, GroupJudge, PartGroup } from './partGroup.ts';

interface Union {
  readonly a: number;
  readonly b: number;
  readonly gain: number;
  readonly group: PartGroup;
}

/** Starts from single parts and always joins the two linked groups whose union gains most, until none gains. */
export function mergeParts(
  parts: readonly LeafPart[],
  links: readonly { readonly a: number; readonly b: number }[],
  together: Grouper,
  judge: GroupJudge,
): readonly PartGroup[] {
  const groups = new Map(parts.map((p) => [p.id, together([p])]));
  const scores = new Map([...groups].map(([id, g]) => [id, judge(g)]));
  const near = new Map(parts.map((p) => [p.id, new Set<number>()]));
  const unions = new Map<number, Union>();
  const key = (a: number, b: number): number => (a < b ? a * 65536 + b : b * 65536 + a);
  const weigh = (a: number, b: number): void => {
    const group = together([...groups.get(a)!.parts, ...groups.get(b)!.parts]);
    unions.set(key(a, b), { a, b, group, gain: judge(group) - scores.get(a)! - scores.get(b)! });
  };
  for (const { a, b } of links) {
    near.get(a)!.add(b);
    near.get(b)!.add(a);
    if (!unions.has(key(a, b))) weigh(a, b);
  }

  for (;;) {
    let best: Union | null = null;
    for (const u of unions.values()) if (u.gain > (best?.gain ?? 0)) best = u;
    if (best === null) return [...groups.values()];
    const { a, b, group, gain } = best;
    scores.set(a, scores.get(a)! + scores.get(b)! + gain);
    groups.set(a, group);
    groups.delete(b);
    for (const c of near.get(b)!) {
      unions.delete(key(b, c));
      near.get(c)!.delete(b);
      if (c === a) continue;
      near.get(c)!.add(a);
      near.get(a)!.add(c);
    }
    near.delete(b);
    for (const c of near.get(a)!) weigh(a, c);
  }
}
