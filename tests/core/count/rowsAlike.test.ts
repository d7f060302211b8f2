import { describe, expect, it } from 'vitest';
import { rowsAlike } from '../../../src/core/count/rowsAlike.ts';

const stretch = { fromM: 0, toM: 3 };
const line = (acrossAtZeroM: number, slope = 0) => ({ acrossAtZeroM, slope, sdM: 0.01 });
const codes = (...given: Parameters<typeof rowsAlike>): readonly string[] => rowsAlike(...given).map((w) => w.code);

describe('a reference between two rows', () => {
  it('is said where rows 15 in apart have the cards in their middle, on either side', () => {
    expect(codes(line(0.19), 'cards', stretch, 0.381)).toEqual(['rows-alike']);
    expect(codes(line(-0.19), 'cards', stretch, 0.381)).toEqual(['rows-alike']);
  });
  it('is no matter where the reference lies beside its row, as the README asks', () => {
    expect(codes(line(0.15), 'tape', stretch, 0.762)).toEqual([]);
    expect(codes(line(-0.14), 'tape', stretch, 0.381)).toEqual([]);
  });
  it('looks at the middle of the stretch of a slanting row', () => {
    expect(codes(line(0.3, -0.1), 'tape', stretch, 0.762)).toEqual([]);
    expect(codes(line(0.2, 0.1), 'tape', stretch, 0.762)).toEqual(['rows-alike']);
  });
  it('says nothing without a row, without a row width, or for a frame that lies over the row', () => {
    expect(codes(null, 'tape', stretch, 0.381)).toEqual([]);
    expect(codes(line(0.19), 'tape', stretch, null)).toEqual([]);
    expect(codes(line(0.19), 'frame', stretch, 0.381)).toEqual([]);
  });
});
