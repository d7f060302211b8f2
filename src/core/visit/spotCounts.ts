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
  return visit.spots.map((spot) => {
    const corrected = spot.counts.map((count) => applyCorrections(count, corrections, nameOf));
    const usable: StandCount[] = [];
    const problems: string[] = [];
    for (const { count, leftOut } of corrected) {
      if (leftOut !== null) {
        problems.push(`${count.id} was left out: ${leftOut}`);
        continue;
      }
      const made = standCount(count, rowWidthM, metres);
      if (made.ok) usable.push(made.value);
      else problems.push(`${count.id}: ${made.found}, wanted ${made.wanted}`);
    }
    return { spot, corrected, usable, problems };
  });
}

type Metres = (text: string) => number;

function standCount(count: VisitCount, rowWidthM: number | null, metres: Metres): Outcome<StandCount> {
  switch (count.kind) {
    case 'hoop':
      return sized({ kind: 'hoop', plants: count.plants, insideDiameterM: metres(count.insideDiameter) }, (made) => [
        made.insideDiameterM,
      ]);
    case 'quadrat':
      return sized(
        {
          kind: 'quadrat',
          plants: count.plants,
          widthM: metres(count.width),
          lengthM: metres(count.length),
        },
        (made) => [made.widthM, made.lengthM],
      );
    case 'rows':
      return rowWidthM === null
        ? noWidth()
        : sized({ kind: 'rows', plants: count.plants, lengthM: metres(count.length), rowWidthM }, (made) => [
            made.lengthM,
            made.rowWidthM,
          ]);
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
      return sized(
        {
          kind: 'photo',
          plants: value,
          low: Math.min(found.low, value),
          high: Math.max(found.high, value),
          level: found.level,
          lengthM: stretch.lengthM,
          rowWidthM,
        },
        (made) => [made.lengthM, made.rowWidthM],
      );
    }
  }
}

function sized<T extends StandCount>(made: T, sizes: (made: T) => readonly number[]): Outcome<StandCount> {
  return sizes(made).every((size) => size > 0)
    ? good(made)
    : cannot('no size', 'a length of 0', 'lengths above 0', 'Correct the length.');
}

function noWidth() {
  return cannot('no row width', 'no row width', 'the distance between rows, such as 30 in', 'Enter planting.rowWidth.');
}
