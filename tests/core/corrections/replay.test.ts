import { describe, expect, it } from 'vitest';
import type { Correction } from '../../../src/core/corrections/correction.ts';
import { replay } from '../../../src/core/corrections/replay.ts';
import type { CountResult } from '../../../src/core/count/countResult.ts';
import { drawnCount, madeBy } from './drawnCount.ts';

type Change = Correction['change'];
const corrected = (row: string, ...changes: Change[]) => replay(drawnCount(row), madeBy(changes));
/** The corrected row as text again, one letter a decimetre; capitals: a person touched it. */
function drawn(result: ReturnType<typeof replay>): string {
  const letters = Array.from({ length: Math.round(result.stretch!.lengthM * 10) }, () => '.');
  for (const { kind, alongM, checked } of result.plants) {
    const letter = { plant: 'x', weed: 'w', unsure: 'u' }[kind];
    const at = Math.floor(alongM! * 10);
    letters[at] = letters[at] === '.' ? (checked === null ? letter : letter.toUpperCase()) : '2';
  }
  return letters.join('');
}
const pixel = (alongM: number) => ({ xPx: 100 + alongM * 1000, yPx: 400 });

describe('each correction', () => {
  it('changes one mark and says who touched it', () => {
    expect(drawn(corrected('x.xw?.x'))).toBe('x.xwu.x');
    expect(drawn(corrected('x.xw?.x', { kind: 'confirm plant', plantId: 'p2' }))).toBe('x.Xwu.x');
    expect(drawn(corrected('x.xw?.x', { kind: 'remove plant', plantId: 'p2' }))).toBe('x..wu.x');
    expect(drawn(corrected('x.xw?.x', { kind: 'name plant', plantId: 'p3', as: 'plant' }))).toBe('x.xXu.x');
    expect(drawn(corrected('x.xw?.x', { kind: 'name plant', plantId: 'p2', as: 'weed' }))).toBe('x.Wwu.x');
    expect(drawn(corrected('x.xw?.x', { kind: 'add plant', plantId: 'n', ...pixel(0.55) }))).toBe('x.xwuXx');
    expect(drawn(corrected('x.xw?.x', { kind: 'add plant', plantId: 'n', along: '15 cm' }))).toBe('xXxwu.x');
    expect(drawn(corrected('x.xw?.x', { kind: 'move plant', plantId: 'p2', ...pixel(0.15) }))).toBe('xX.wu.x');
    expect(drawn(corrected('x.xw?.x', { kind: 'split plant', plantId: 'p2' }))).toBe('x.2wu.x');
    expect(drawn(corrected('x.xw?.x', { kind: 'merge plants', plantId: 'p0', otherId: 'p2' }))).toBe('.X.wu.x');
    expect(corrected('x', { kind: 'mark damaged', plantId: 'p0', damaged: true }).plants[0]).toMatchObject({
      damaged: true,
      checked: { by: 'Ann', did: 'damaged' },
    });
  });

  it('of a mark that is not there changes nothing but the record', () => {
    const changes: Change[] = [
      { kind: 'remove plant', plantId: 'nobody' },
      { kind: 'split plant', plantId: 'nobody' },
      { kind: 'merge plants', plantId: 'p0', otherId: 'nobody' },
      { kind: 'merge plants', plantId: 'p0', otherId: 'p0' },
      { kind: 'add plant', plantId: 'p0', ...pixel(0.2) },
      { kind: 'undo', correctionId: 'nobody' },
      { kind: 'redo', correctionId: 'k0' },
      { kind: 'move reading', readingM: 0.123, ...pixel(0.2) },
    ];
    for (const change of changes) expect(corrected('xx', change).plants).toEqual(corrected('xx').plants);
  });

  it('keeps the machine list, the marks taken off, and where each mark came from', () => {
    const result = drawnCount('x.xx');
    const made = replay(
      result,
      madeBy([
        { kind: 'remove plant', plantId: 'p2' },
        { kind: 'split plant', plantId: 'p3' },
      ]),
    );
    expect(made.removed.map(({ id, checked }) => [id, checked!.did])).toEqual([['p2', 'removed']]);
    expect(made.plants.map(({ id, machine }) => [id, machine?.id ?? null])).toEqual([
      ['p0', 'p0'],
      ['p3.1', 'p3'],
      ['p3.2', 'p3'],
    ]);
    expect(result).toEqual(drawnCount('x.xx'));
  });

  it('places the halves of a split 2 cm apart along the row, and they move like any mark', () => {
    const made = corrected(
      '..x..',
      { kind: 'split plant', plantId: 'p2' },
      { kind: 'move plant', plantId: 'p2.2', ...pixel(0.3) },
    );
    expect(made.plants.map((p) => p.alongM)).toEqual([expect.closeTo(0.24, 9), expect.closeTo(0.3, 9)]);
    expect(corrected('..x..', { kind: 'split plant', plantId: 'p2' }).spacing!.meanM).toBeCloseTo(0.02, 9);
  });
});

describe('numbers follow', () => {
  it('count, spacing, gaps and population', () => {
    const made = corrected('xxx....xxx', { kind: 'add plant', plantId: 'n', ...pixel(0.5) });
    expect(replay(drawnCount('xxx....xxx'), []).gaps.map((g) => g.lengthM)).toEqual([expect.closeTo(0.5, 9)]);
    expect(made.gaps).toEqual([]);
    expect(made.count.value).toBe(7);
    expect(made.spacing!.meanM).toBeCloseTo(0.9 / 6, 9);
    // 7 plants on 1 m of 30 in row: the 1/1000-acre way of working gives the same (43,560 ft2/ac, 0.3048 m/ft).
    expect(made.population!.perAcre).toBeCloseTo((7 / ((1 / 0.3048) * 2.5)) * 43_560, 3);
  });

  it('a mark outside the stretch is never counted, one moved in is', () => {
    const result = drawnCount('xx..xx', { margin: 1 });
    expect(result.count.value).toBe(2);
    const moved = replay(result, madeBy([{ kind: 'move plant', plantId: 'p0', ...pixel(0.15) }]));
    expect(moved.count.value).toBe(3);
    const out = replay(result, madeBy([{ kind: 'move plant', plantId: 'p1', ...pixel(-0.05) }]));
    expect(out.count.value).toBe(1);
  });

  it('the interval narrows with every mark a person vouches for and names them', () => {
    const row = 'xoxdx?oxwxoxxxoxdxoxxxxoxxxx';
    const result = drawnCount(row);
    let width = Number.POSITIVE_INFINITY;
    const ids = result.plants.filter((p) => p.kind === 'plant').map((p) => p.id);
    for (const share of [0, 0.5, 1]) {
      const some = ids.slice(0, Math.round(share * ids.length));
      const { count } = replay(result, madeBy(some.map((plantId): Change => ({ kind: 'confirm plant', plantId }))));
      expect(count.high - count.low).toBeLessThan(width);
      expect(count.value).toBe(ids.length);
      width = count.high - count.low;
    }
    const all = replay(
      result,
      [
        ...madeBy(result.plants.map((p): Change => ({ kind: 'confirm plant', plantId: p.id }))),
        { id: 'z', at: '2026-06-16T16:00:00Z', by: 'ben', change: { kind: 'remove plant', plantId: 'p1' } },
      ],
      (by) => (by === 'ben' ? 'Ben' : by),
    );
    expect(all.count.method).toMatch(/; every mark checked by Ann, Ben$/);
    expect(corrected(row, { kind: 'confirm plant', plantId: 'p0' }).count.method).toMatch(
      /; 1 of 28 marks checked by Ann$/,
    );
    // What nobody marked can still be there: an upper bound above the value stays.
    expect(all.count.high).toBeGreaterThan(all.count.value);
    expect(all.count.low).toBeGreaterThanOrEqual(all.count.value - 1);
  });

  it('a mark a person could not name keeps its doubt', () => {
    const row = 'xxxxxxxxxx';
    const named = corrected(row, { kind: 'name plant', plantId: 'p4', as: 'unsure' });
    const weed = corrected(row, { kind: 'name plant', plantId: 'p4', as: 'weed' });
    expect(named.count.value).toBe(9);
    expect(named.plants[4]!.confidence).toBe(0.5);
    expect(weed.plants[4]!.confidence).toBe(0);
    expect(named.count.high).toBeGreaterThanOrEqual(weed.count.high);
  });
});

describe('odd photos', () => {
  const bare = (row: string): CountResult => {
    const { setting: _none, ...result } = drawnCount(row);
    return {
      ...result,
      stretch: null,
      spacing: null,
      gaps: [],
      population: null,
      reference: { ...result.reference, kind: 'none', photoToGround: null, endsPx: null, endsM: null, readings: [] },
      plants: result.plants.map((p) => ({ ...p, alongM: null, acrossM: null, alongSdMm: null, inStretch: true })),
    };
  };

  it('without a scale are counted all the same, with no length made up', () => {
    const made = replay(
      bare('x.x'),
      madeBy([
        { kind: 'add plant', plantId: 'n', xPx: 300, yPx: 400 },
        { kind: 'split plant', plantId: 'p0' },
        { kind: 'move reading', readingM: 0, xPx: 1, yPx: 1 },
      ]),
    );
    expect(made.count.value).toBe(4);
    expect(made.spacing).toBeNull();
    expect(made.population).toBeNull();
    expect(made.plants.every((p) => p.alongM === null)).toBe(true);
    // 0.6 % of 4000 pixels apart.
    expect(made.plants[1]!.xPx - made.plants[0]!.xPx).toBeCloseTo(24, 9);
  });

  it('none, one, and two marks at one place', () => {
    expect(replay(drawnCount('....'), []).count.value).toBe(0);
    expect(corrected('....', { kind: 'add plant', plantId: 'n', ...pixel(0.2) }).count.value).toBe(1);
    expect(corrected('x...', { kind: 'remove plant', plantId: 'p0' }).gaps).toEqual([
      { fromM: 0, toM: 0.4, lengthM: 0.4 },
    ]);
    const twice = corrected('x.x', { kind: 'move plant', plantId: 'p2', ...pixel(0.05) });
    expect(twice.spacing!.meanM).toBeCloseTo(0, 9);
    expect(twice.plants.map((p) => p.id).sort()).toEqual(['p0', 'p2']);
  });

  it('a photo said to be checked: what was left alone in the stretch is confirmed, what could not be told is not', () => {
    const seen = corrected('x.ow?.x', { kind: 'remove plant', plantId: 'p0' }, { kind: 'check photo' });
    expect(drawn(seen)).toBe('..XWu.X');
    expect(seen.checkedWhole).toEqual({ by: seen.checkedBy[0], at: expect.any(String) });
    expect(seen.count.value).toBe(2);
    const outside = replay(drawnCount('xxxx', { margin: 1 }), madeBy([{ kind: 'check photo' }]));
    expect(outside.plants.map((p) => p.checked !== null)).toEqual([false, true, true, false]);
    expect(corrected('x.o', { kind: 'confirm plant', plantId: 'p0' }).checkedWhole).toBeNull();
  });

  it('counted before settings were kept work out the row width from their own population', () => {
    const { setting: _none, ...early } = drawnCount('xxxxx.xxxx');
    const now = replay(early, madeBy([{ kind: 'add plant', plantId: 'n', ...pixel(0.55) }]));
    const full = replay(drawnCount('xxxxx.xxxx'), madeBy([{ kind: 'add plant', plantId: 'n', ...pixel(0.55) }]));
    expect(now.population!.perAcre).toBeCloseTo(full.population!.perAcre, 6);
  });
});
