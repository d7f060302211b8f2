import { describe, expect, it } from 'vitest';
import { assessVisit } from '../../../src/core/visit/assessVisit.ts';
import { windmillEighty } from '../../../src/core/visit/demo/windmillEighty.ts';
import { readVisit } from '../../../src/core/visit/readVisit.ts';
import type { VisitDocument } from '../../../src/core/visit/visitSchema.ts';

type Change = NonNullable<VisitDocument['corrections']>[number]['change'];

/** A photo count as `rowledger count --json` prints it: `.` is a tenth of a metre of bare row, `x` one with a plant. */
function photo(row: string, id: string) {
  const marks = [...row];
  const plants = marks.flatMap((mark, i) =>
    mark === 'x'
      ? [
          {
            id: `p${i}`,
            xPx: 0,
            yPx: 0,
            alongM: (i + 0.5) / 10,
            acrossM: 0,
            kind: 'plant' as const,
            inStretch: true,
            confidence: 0.9,
          },
        ]
      : [],
  );
  const lengthM = marks.length / 10;
  return {
    id,
    kind: 'photo' as const,
    result: {
      schema: 'rowledger/count@1' as const,
      photo: { file: `${id}.jpg`, sha256: 'aa', widthPx: 10, heightPx: 10, takenAt: null, position: null },
      stretch: { fromM: 0, toM: lengthM, lengthM },
      plants,
      count: { value: plants.length, low: plants.length - 1, high: plants.length + 2, level: 0.9, method: 'test' },
      gaps: [],
    },
  };
}

const ROW = 'xxxx.xxxxx.xxxxxxxx.xxxxxxxxxx';

function visitOf(rows: readonly string[], changes: readonly Change[] = []): VisitDocument {
  const raw = {
    ...windmillEighty,
    spots: rows.map((row, i) => ({ id: `s${i}`, counts: [photo(row, `photo-${i}`)] })),
    corrections: changes.map((change, i) => ({
      id: `k${i}`,
      at: `2026-06-16T15:0${i}:00Z`,
      by: 'tomas',
      countId: 'photo-0',
      change,
    })),
  };
  const read = readVisit(JSON.parse(JSON.stringify(raw)));
  if (!read.ok) throw new Error(read.found);
  return read.value;
}

describe('photo counts in a visit', () => {
  it('feed the same engine, with the counting error of the spot apart from that of the field', () => {
    const made = assessVisit(visitOf([ROW, ROW, ROW, ROW]));
    // 27 plants on 3 m of 30 in row.
    expect(made.spots[0]!.plants).toBe(27);
    expect(made.stand!.perM2).toBeCloseTo(27 / (3 * 0.762), 9);
    expect(made.spots[0]!.low).toBeCloseTo(26 / (3 * 0.762), 9);
    expect(made.spots[0]!.high).toBeCloseTo(29 / (3 * 0.762), 9);
    expect(made.photos).toHaveLength(4);
  });

  it('corrections move the count, its bounds, the spacing and the gaps', () => {
    const at = (...changes: Change[]) => assessVisit(visitOf([ROW, ROW, ROW], changes));
    const before = at();
    expect(at({ kind: 'remove plant', plantId: 'p3' }).spots[0]!.plants).toBe(26);
    expect(at({ kind: 'name plant', plantId: 'p3', as: 'weed' }).spots[0]!.plants).toBe(26);
    const added = at({ kind: 'add plant', plantId: 'n1', along: '45 cm' });
    expect(added.spots[0]!.plants).toBe(28);
    expect(added.evenness!.spacings).toBe(before.evenness!.spacings + 1);
    expect(at({ kind: 'add plant', plantId: 'n1', along: '4.5 m' }).spots[0]!.plants).toBe(27);
    expect(at({ kind: 'set plants', plants: 30 }).spots[0]!.high).toBeCloseTo(32 / (3 * 0.762), 9);
    const cleared = Array.from({ length: 8 }, (_, i): Change => ({ kind: 'remove plant', plantId: `p${11 + i}` }));
    expect(before.evenness!.gapsCounted).toBe(0);
    // Plants stay at 0.95 m and 2.05 m... the bare run between them is longer than 2 ft.
    expect(at(...cleared).evenness!.gapsCounted).toBe(1);
  });

  it('a correction of a plant that is not there changes nothing', () => {
    expect(assessVisit(visitOf([ROW, ROW, ROW], [{ kind: 'remove plant', plantId: 'nobody' }])).spots[0]!.plants).toBe(
      27,
    );
  });

  it('a photo without a scale is shown and not used', () => {
    const visit = visitOf([ROW, ROW, ROW, ROW]);
    const [first] = visit.spots;
    const count = first!.counts[0]!;
    if (count.kind !== 'photo') throw new Error('wanted a photo count');
    const bare = { ...first!, counts: [{ ...count, result: { ...count.result, stretch: null } }] };
    const made = assessVisit({ ...visit, spots: [bare, ...visit.spots.slice(1)] });
    expect(made.spots[0]!.why).toContain('without a scale');
    expect(made.stand!.spots).toBe(3);
  });
});
