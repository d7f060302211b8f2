import type { Outcome } from '../faults/outcome.ts';
import { cannot, good } from '../faults/outcome.ts';
import type { StandCount } from '../stand/standCount.ts';
import type { CorrectedCount } from './applyCorrections.ts';
import { applyCorrections } from './applyCorrections.ts';
import type { VisitCount } from './countSchema.ts';
import { quantityIn } from './quantity.ts';
import type { VisitDocument, VisitSpot } from './visitSchema.ts';

/** The counts of one spot after corrections, as the stand engine takes them, and what could not be used. */
export interface SpotCounts {
  readonly spot: VisitSpot;
  readonly corrected: readonly CorrectedCount[];
  readonly usable: readonly StandCount[];
  readonly problems: readonly string[];
}

/** Corrected counts of every spot, in the document's order. */
export function spotCounts(visit: VisitDocument): readonly SpotCounts[] {
  const rowWidthM = quantityIn(visit.planting.rowWidth, 'length');
  const corrections = visit.corrections ?? [];
  const names = new Map(visit.people.map(({ id, name }) => [id, name]));
  const nameOf = (id: string) => names.get(id) ?? id;
  // Most counts of a visit share one length: read each text once.
  const read = new Map<string, number>();
  const metres: Metres = (text) => {
    const known = read.get(text);
    if (known !== undefined) return known;
    const value = quantityIn(text, 'length') ?? 0;
    read.set(text, value);
    return value;
  };
  const correctionsOf = new Map<string, (typeof corrections)[number][]>();
  for (const correction of corrections) {
    const own = correctionsOf.get(correction.countId);
    if (own === undefined) correctionsOf.set(correction.countId, [correction]);
    else own.push(correction);
  }
  return visit.spots.map((spot) => {
    const corrected = spot.counts.map((count) => applyCorrections(count, correctionsOf.get(count.id) ?? NONE, nameOf));
    const usable: StandCount[] = [];
    let problems: string[] | null = null;
    for (const { count, leftOut } of corrected) {
      const made = leftOut === null ? standCount(count, rowWidthM, metres) : null;
      if (made?.ok) {
        usable.push(made.value);
        continue;
      }
      problems ??= [];
      problems.push(
        made === null ? `${count.id} was left out: ${leftOut}` : `${count.id}: ${made.found}, wanted ${made.wanted}`,
      );
    }
    return { spot, corrected, usable, problems: problems ?? NONE };
  });
}

/** Most spots have neither corrections nor problems: they share this. */
const NONE: readonly never[] = [];

type Metres = (text: string) => number;

function standCount(count: VisitCount, rowWidthM: number | null, metres: Metres): Outcome<StandCount> {
  switch (count.kind) {
    case 'hoop': {
      const insideDiameterM = metres(count.insideDiameter);
      return sized({ kind: 'hoop', plants: count.plants, insideDiameterM }, insideDiameterM, insideDiameterM);
    }
    case 'quadrat': {
      const [widthM, lengthM] = [metres(count.width), metres(count.length)];
      return sized({ kind: 'quadrat', plants: count.plants, widthM, lengthM }, widthM, lengthM);
    }
    case 'rows': {
      if (rowWidthM === null) return noWidth();
      const lengthM = metres(count.length);
      return sized({ kind: 'rows', plants: count.plants, lengthM, rowWidthM }, lengthM, rowWidthM);
    }
    case 'photo': {
      if (rowWidthM === null) return noWidth();
      const { stretch, count: found } = count.result;
      if (stretch === null) {
        return cannot(
          'no scale',
          'a photo without a scale',
          'a reference in the photo',
          'Photograph it with the tape in view.',
        );
      }
      const value = Math.round(found.value);
      const { lengthM } = stretch;
      const [low, high] = [Math.min(found.low, value), Math.max(found.high, value)];
      const made = { kind: 'photo', plants: value, low, high, level: found.level, lengthM, rowWidthM } as const;
      return sized(made, lengthM, rowWidthM);
    }
  }
}

function sized(made: StandCount, oneM: number, otherM: number): Outcome<StandCount> {
  return oneM > 0 && otherM > 0
    ? good(made)
    : cannot('no size', 'a length of 0', 'lengths above 0', 'Correct the length.');
}

function noWidth() {
  return cannot('no row width', 'no row width', 'the distance between rows, such as 30 in', 'Enter planting.rowWidth.');
}
