import { describe, expect, test } from 'vitest';
import { practicePhoto } from '../../src/worker/practicePhoto.ts';
import { PRACTICE_SIZES_PX, practise } from '../../src/worker/practise.ts';

/** No outside source: plants were drawn every 8 cm, so a picture that shows 0.7 m and more of the row has nine and more. */
describe('practise', () => {
  test('goes all the way from reference to plants in every drawing, resting between steps', async () => {
    let rests = 0;
    const plants = await practise(
      () => 0,
      async () => {
        rests++;
      },
    );
    expect(plants).toHaveLength(PRACTICE_SIZES_PX.length);
    for (const found of plants) expect(found).toBeGreaterThanOrEqual(9);
    expect(rests).toBe(3 * PRACTICE_SIZES_PX.length);
  });

  test('the drawing is the same at every call', () => {
    expect(practicePhoto(60, 24)).toEqual(practicePhoto(60, 24));
  });
});
