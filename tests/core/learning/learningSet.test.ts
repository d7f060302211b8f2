import { describe, expect, it } from 'vitest';
import { learningSet } from '../../../src/core/learning/learningSet.ts';
import { seenPhoto } from './marks.ts';

/** Labels by mark, `-` where nothing is told. */
function labels(photo: ReturnType<typeof seenPhoto>): Record<string, string> {
  return Object.fromEntries(learningSet([photo]).examples.map((e) => [e.markId, e.label]));
}

describe('what a corrected photo teaches', () => {
  it('takes marks left alone in a checked photo as confirmed, and an unsure one as not told', () => {
    expect(labels(seenPhoto('x.w.?', []))).toEqual({ p0: 'plant', p2: 'weed' });
  });

  it('reads every kind of correction', () => {
    const photo = seenPhoto('xxxxxwxx', [
      { kind: 'remove plant', plantId: 'p0' },
      { kind: 'name plant', plantId: 'p1', as: 'weed' },
      { kind: 'split plant', plantId: 'p2' },
      { kind: 'merge plants', plantId: 'p3', otherId: 'p4' },
      { kind: 'name plant', plantId: 'p5', as: 'plant' },
      { kind: 'name plant', plantId: 'p6', as: 'unsure' },
      { kind: 'mark damaged', plantId: 'p7', damaged: true },
      { kind: 'add plant', plantId: 'own1', xPx: 100, yPx: 100 },
    ]);
    expect(labels(photo)).toEqual({
      p0: 'not a plant',
      p1: 'weed',
      p2: 'double',
      p3: 'plant',
      p4: 'not a plant',
      p5: 'plant',
      p7: 'plant',
    });
  });

  it('counts what stands at the end: a split of which one half goes is one plant, an undone removal none', () => {
    const half = seenPhoto('x', [
      { kind: 'split plant', plantId: 'p0' },
      { kind: 'remove plant', plantId: 'p0.2' },
    ]);
    expect(labels(half)).toEqual({ p0: 'plant' });
    const undone = seenPhoto('x', [
      { kind: 'remove plant', plantId: 'p0' },
      { kind: 'undo', correctionId: 'k0' },
    ]);
    expect(labels(undone)).toEqual({ p0: 'plant' });
  });

  it('leaves a photo out that was not gone through whole, and says so', () => {
    const open = seenPhoto('xxx', [{ kind: 'remove plant', plantId: 'p1' }], { checked: false });
    expect(learningSet([open])).toEqual({
      examples: [],
      photos: 0,
      leftOut: [{ photo: 'aa', why: 'not gone through whole' }],
    });
    const whole = seenPhoto(
      'xx',
      [
        { kind: 'confirm plant', plantId: 'p0' },
        { kind: 'remove plant', plantId: 'p1' },
      ],
      {
        checked: false,
      },
    );
    expect(labels(whole)).toEqual({ p0: 'plant', p1: 'not a plant' });
    expect(learningSet([seenPhoto('', [], { checked: false })]).leftOut).toHaveLength(1);
  });

  it('does not take untouched marks outside the stretch as confirmed', () => {
    const photo = seenPhoto('xxxx', [{ kind: 'name plant', plantId: 'p3', as: 'weed' }], { margin: 1 });
    expect(labels(photo)).toEqual({ p1: 'plant', p2: 'plant', p3: 'weed' });
  });

  it('leaves out a photo without a scale, one given twice, and one whose marks are of another detector', () => {
    const photo = seenPhoto('xx', []);
    const set = learningSet([
      photo,
      photo,
      { ...seenPhoto('x', [], { sha256: 'bb' }), features: null },
      { ...seenPhoto('xx', [], { sha256: 'cc' }), stock: [] },
    ]);
    expect(set.photos).toBe(1);
    expect(set.leftOut.map(({ photo }) => photo)).toEqual(['aa', 'bb', 'cc']);
  });

  it('keeps what the stock detector said where the person saw a head’s answer', () => {
    const photo = seenPhoto('x', []);
    const byHead = { ...photo.result, plants: photo.result.plants.map((p) => ({ ...p, kind: 'weed' as const })) };
    const [example] = learningSet([{ ...photo, result: byHead }]).examples;
    expect(example).toMatchObject({ label: 'weed', stock: { kind: 'plant', confidence: 0.95 } });
  });

  it('gives the same whatever order the photos came in, and nothing from nothing', () => {
    const [a, b] = [seenPhoto('x.w', [], { sha256: 'aa' }), seenPhoto('wx', [], { sha256: 'bb' })];
    expect(learningSet([a, b])).toEqual(learningSet([b, a]));
    expect(learningSet([])).toEqual({ examples: [], photos: 0, leftOut: [] });
  });
});
