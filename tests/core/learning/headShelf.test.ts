import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { readDocument } from '../../../src/core/archive/documents.ts';
import { indexThing } from '../../../src/core/archive/indexThing.ts';
import { applyHead } from '../../../src/core/learning/applyHead.ts';
import { featuresOfAll } from '../../../src/core/learning/detectionFeatures.ts';
import { FEATURE_NAMES } from '../../../src/core/learning/featureNames.ts';
import { headChances } from '../../../src/core/learning/headChances.ts';
import { adoptHead, EMPTY_SHELF, type HeadShelf, headInUse, useHead } from '../../../src/core/learning/headShelf.ts';
import { readHeads, writeHeads } from '../../../src/core/learning/headsDocument.ts';
import { withHead } from '../../../src/core/learning/withHead.ts';
import { findPlantsByColour } from '../../../src/core/plants/findPlantsByColour.ts';
import { seededRandom } from '../../../src/core/statistics/seededRandom.ts';
import type { ChangeRecord } from '../../../src/core/sync/changeRecord.ts';
import { editThing, NOTHING_YET } from '../../../src/core/sync/editThing.ts';
import type { Json } from '../../../src/core/sync/json.ts';
import { mergeRecords } from '../../../src/core/sync/mergeRecords.ts';
import { ANYWHERE, stripOfPlants } from '../../support/drawnStrip.ts';
import { drawnHead } from './marks.ts';

const by = (who: string, minute = 0) => ({
  id: `${who}-${minute}`,
  at: `2026-06-17T08:${String(10 + minute)}:00-06:00`,
  by: who,
});
const one = drawnHead(1, seededRandom(1));
const other = drawnHead(1, seededRandom(2));

describe('the heads of a farm', () => {
  it('can be taken, changed and taken back; nothing is lost', () => {
    const both = adoptHead(adoptHead(EMPTY_SHELF, one, by('Ann')), other, by('Ann', 1));
    expect(headInUse(both)).toBe(other);
    const back = useHead(useHead(both, one.id, by('Bo', 2)), null, by('Bo', 3));
    expect(headInUse(back)).toBeNull();
    expect(back.heads).toEqual([one, other]);
    expect(back.changes.map((c) => c.inUse)).toEqual([one.id, other.id, one.id, null]);
    expect(headInUse(both)).toBe(other);
    expect(() => useHead(both, 'nowhere', by('Bo', 2))).toThrow(/no head "nowhere"/);
  });

  it('comes through JSON as it was', () => {
    const shelf = adoptHead(adoptHead(EMPTY_SHELF, one, by('Ann')), other, by('Ann', 1));
    const read = readHeads(JSON.parse(JSON.stringify(writeHeads(shelf))));
    expect(read).toEqual({ ok: true, value: shelf });
    expect(readHeads(writeHeads(EMPTY_SHELF))).toEqual({ ok: true, value: EMPTY_SHELF });
  });

  it('refuses what is altered, misfits, or names a head that is not there', () => {
    const document = writeHeads(adoptHead(EMPTY_SHELF, one, by('Ann')));
    const found = (raw: unknown) => {
      const read = readHeads(raw);
      return read.ok ? 'read' : read.found;
    };
    const altered = { ...one, hidden: { ...one.hidden, bias: one.hidden.bias.map((b) => b + 0.1) } };
    expect(found({ ...document, heads: [altered] })).toContain('not those it was named for');
    expect(found({ ...document, heads: [{ ...one, mean: [1] }] })).toContain('do not fit');
    expect(found({ ...document, heads: [{ ...one, sd: one.sd.map(() => 0) }] })).toContain('sd');
    expect(found({ ...document, heads: [] })).toContain('not there');
    expect(found({ ...document, heads: [one, one] })).toContain('twice');
    expect(found('nonsense')).toContain('document');
  });
});

describe('a head on top of the stock detector', () => {
  const plants = [60, 170, 260, 380, 500].map((alongMm, k) => ({ alongMm, downMm: 150, turn: k }));
  const strip = stripOfPlants(600, 300, plants);
  const stock = { detector: { name: 'drawn', version: '1' }, findPlants: findPlantsByColour };

  it('changes what marks are said to be, keeps their names and places, and is named in the version', async () => {
    const read = withHead(stock, one);
    if (!read.ok) throw new Error(read.found);
    expect(read.value.detector).toEqual({ name: 'drawn', version: `1+${one.id}` });
    const plain = findPlantsByColour(strip, ANYWHERE);
    const { detections } = await read.value.findPlants(strip, ANYWHERE);
    expect(detections.length).toBeGreaterThanOrEqual(plants.length);
    const places = (list: typeof detections) =>
      list.map(({ id, baseStripPx, leafAreaMm2 }) => [id, baseStripPx, leafAreaMm2]);
    expect(places(detections)).toEqual(places(plain.detections));
    expect(detections.map((d) => d.confidence)).not.toEqual(plain.detections.map((d) => d.confidence));
    expect(findPlantsByColour(strip, ANYWHERE)).toEqual(plain);
  });

  it('refuses a head of another detector or of other features', () => {
    expect(withHead({ ...stock, detector: { name: 'drawn', version: '2' } }, one)).toMatchObject({
      code: 'other detector',
    });
    expect(withHead(stock, { ...one, featureNames: [...FEATURE_NAMES].reverse() })).toMatchObject({
      code: 'other features',
    });
  });

  it('with all weights zero is the stock detector, but for the chances it never rules out', () => {
    const { detections } = findPlantsByColour(strip, ANYWHERE);
    const features = featuresOfAll(findPlantsByColour(strip, ANYWHERE), strip);
    const same = applyHead(drawnHead(0), detections, features);
    same.forEach((d, k) => {
      // four answers raised to at least 2 % each move a chance by at most 8 %
      expect(Math.abs(d.confidence - detections[k]!.confidence)).toBeLessThanOrEqual(0.08);
    });
    expect(same.filter((d) => d.kind === 'plant')).toHaveLength(plants.length);
  });

  it('gives chances that sum to 1, also far from all it was trained on, and refuses a wrong number of features', () => {
    const features = fc.array(fc.double({ min: -1e6, max: 1e6, noNaN: true }), {
      minLength: FEATURE_NAMES.length,
      maxLength: FEATURE_NAMES.length,
    });
    const chance = fc.double({ min: 0, max: 1, noNaN: true });
    fc.assert(
      fc.property(features, chance, chance, (values, confidence, doubleChance) => {
        const chances = Object.values(headChances(one, { kind: 'plant', confidence, doubleChance }, values));
        expect(chances.every((c) => c >= 0 && c <= 1)).toBe(true);
        // rounding of four terms
        expect(Math.abs(chances.reduce((a, b) => a + b, 0) - 1)).toBeLessThan(1e-12);
      }),
    );
    expect(() => headChances(one, { kind: 'plant', confidence: 1, doubleChance: 0 }, [1])).toThrow(RangeError);
    expect(() => applyHead(one, [{ kind: 'plant', confidence: 1, doubleChance: 0 }], [])).toThrow(RangeError);
  });
});

describe('shelves of two devices', () => {
  const record = (name: number, parents: readonly string[], changes: ChangeRecord['changes']): ChangeRecord => ({
    schema: 'rowledger/record@1',
    id: `00000000-0000-4000-8000-00000000000${name}`,
    device: `device-${name}`,
    sequence: 1,
    author: 'Ann',
    at: `2026-06-17T15:0${name}:00.000Z`,
    kind: 'heads',
    thing: 'farm-1',
    parents,
    changes,
  });
  const written = (shelf: HeadShelf) => writeHeads(shelf) as unknown as Json;

  it('merge without a conflict: both heads are kept, the later change counts', () => {
    const first = record(1, [], editThing(NOTHING_YET, written(adoptHead(EMPTY_SHELF, one, by('Ann')))));
    const base = mergeRecords([first]);
    const read = readHeads(base.document);
    if (!read.ok) throw new Error(read.found);
    const here = record(2, [first.id], editThing(base, written(useHead(read.value, null, by('Ann', 4)))));
    const there = record(3, [first.id], editThing(base, written(adoptHead(read.value, other, by('Bo', 7)))));
    for (const order of [
      [first, here, there],
      [first, there, here],
    ]) {
      const merged = mergeRecords(order);
      expect(merged.conflicts).toEqual([]);
      const both = readHeads(merged.document);
      if (!both.ok) throw new Error(both.found);
      expect(both.value.heads.map((head) => head.id).sort()).toEqual([one.id, other.id].sort());
      expect(headInUse(both.value)).toEqual(other);
    }
  });

  it('are documents of the archive', () => {
    expect(readDocument('heads', written(adoptHead(EMPTY_SHELF, one, by('Ann')))).ok).toBe(true);
    expect(readDocument('heads', { schema: 'rowledger/heads@1', heads: [], changes: [], more: 1 }).ok).toBe(false);
    expect(indexThing('heads', 'farm-1', written(adoptHead(EMPTY_SHELF, one, by('Ann'))))).toMatchObject([
      { kind: 'heads', farm: 'farm-1', title: one.id },
    ]);
  });
});
