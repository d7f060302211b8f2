import { windmillEighty } from '../../../src/core/visit/demo/windmillEighty.ts';
import { readVisit } from '../../../src/core/visit/readVisit.ts';
import type { VisitDocument } from '../../../src/core/visit/visitSchema.ts';

/** A checked visit: what the tests build must be what the tool would accept. */
export function checked(visit: VisitDocument): VisitDocument {
  const read = readVisit(JSON.parse(JSON.stringify(visit)));
  if (!read.ok) throw new Error(read.found);
  return read.value;
}

/** The windmill field with other counts, one row of 17 ft 5 in a spot. */
export function withPlants(plants: readonly number[], more: Partial<VisitDocument> = {}): VisitDocument {
  return checked({
    ...windmillEighty,
    spots: plants.map((n, i) => ({
      id: `s${i}`,
      counts: [{ id: `c${i}`, kind: 'rows', length: '17 ft 5 in', plants: [n] }],
    })),
    ...more,
  });
}
