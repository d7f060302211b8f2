import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { applyHead } from '../../../src/core/learning/applyHead.ts';
import { featuresOfAll } from '../../../src/core/learning/detectionFeatures.ts';
import { FEATURE_NAMES } from '../../../src/core/learning/featureNames.ts';
import { headChances } from '../../../src/core/learning/headChances.ts';
import { adoptHead, EMPTY_SHELF, headInUse, useHead } from '../../../src/core/learning/headShelf.ts';
import { readHeads, writeHeads } from '../../../src/core/learning/headsDocument.ts';
import { withHead } from '../../../src/core/learning/withHead.ts';
import { findPlantsByColour } from '../../../src/core/plants/findPlantsByColour.ts';
import { seededRandom } from '../../../src/core/statistics/seededRandom.ts';
import { ANYWHERE, stripOfPlants } from '../../support/drawnStrip.ts';
import { drawnHead } from './marks.ts';

const AT = '2026-06-17T08:00:00-06:00';
const one = drawnHead(1, seededRandom(1));
const other = drawnHead(1, seededRandom(2));

describe('the heads of a farm', () => {
  it('can be taken, changed and taken back; nothing is lost', () => {
    const both = adoptHead(adoptHead(EMPTY_SHELF, one, AT, 'Ann'), other, AT, 'Ann');
    expect(headInUse(both)).toBe(other);
    const back = useHead(useHead(both, one.id, AT, 'Bo'), null, AT, 'Bo');
    expect(headInUse(back)).toBeNull();
    expect(back.heads).toEqual([one, other]);
    expect(back.changes.map((c) => c.inUse)).toEqual([one.id, other.id, one.id, null]);
    expect(headInUse(both)).toBe(other);
    expect(() => useHead(both, 'nowhere', AT, 'Bo')).toThrow(/no head "nowhere"/);
  });

  it('comes through JSON as it was', () => {
    const shelf = adoptHead(adoptHead(EMPTY_SHELF, one, AT, 'Ann'), other, AT, 'Ann');
    const read = readHeads(JSON.parse(JSON.stringify(writeHeads(shelf))));
    expect(read).toEqual({ ok: true, value: shelf });
    expect(readHeads(writeHeads(EMPTY_SHELF))).toEqual({ ok: true, value: EMPTY_SHELF });
  });

  it('refuses what is altered, misfits, or names a head that is not there', () => {
    const document = writeHeads(adoptHead(EMPTY_SHELF, one, AT, 'Ann'));
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
