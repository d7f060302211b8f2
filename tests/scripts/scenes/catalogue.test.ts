import { existsSync, readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { buildScene } from '../../../scripts/scenes/buildScene.ts';
import { CATALOGUE } from '../../../scripts/scenes/catalogue.ts';

type Truth = { plants: { alongM: number; xPx: number; yPx: number }[]; photoToGround: number[] };

describe('the catalogue of sample scenes', () => {
  it('shows every view, reference, light, soil and stage', () => {
    const seen = (pick: (s: (typeof CATALOGUE)[number]) => string): Set<string> => new Set(CATALOGUE.map(pick));
    expect([...seen((s) => s.camera.view)].sort()).toEqual(['along', 'down', 'side']);
    expect([...seen((s) => s.reference.kind)].sort()).toEqual(['cards', 'frame', 'none', 'rod', 'tape']);
    expect([...seen((s) => s.light.sky)].sort()).toEqual(['hazy', 'overcast', 'sun']);
    expect(seen((s) => s.soil.tone).size).toBe(5);
    const stages = new Set(CATALOGUE.flatMap((s) => s.crop.stages.map(([stage]) => stage)));
    expect([...stages].sort()).toEqual(['cotyledon', 'hook', 'trifoliate1', 'trifoliate2', 'unifoliate']);
    expect(CATALOGUE.filter((s) => s.holdOut).length).toBeGreaterThanOrEqual(5);
  });

  it('stays within 8 to 12 megapixels and has names and seeds of its own', () => {
    for (const s of CATALOGUE) {
      expect(s.widthPx * s.heightPx).toBeGreaterThan(7.9e6);
      expect(s.widthPx * s.heightPx).toBeLessThan(12.1e6);
    }
    expect(new Set(CATALOGUE.map((s) => s.name)).size).toBe(CATALOGUE.length);
    expect(new Set(CATALOGUE.map((s) => s.seed)).size).toBe(CATALOGUE.length);
  });

  it.each(['down-tape-inch', 'side-cards'])('%s: the stored truth is what the generator builds today', (name) => {
    const spec = CATALOGUE.find((s) => s.name === name);
    const path = `sample-images/${name}.truth.json`;
    expect(existsSync(path)).toBe(true);
    const truth = JSON.parse(readFileSync(path, 'utf8')) as Truth;
    const built = buildScene(spec!);
    const stems = built.plants.map((p) => p.base[0]);
    // Truth is stored to 0.1 mm.
    for (const p of truth.plants) expect(Math.min(...stems.map((x) => Math.abs(x - p.alongM)))).toBeLessThan(6e-5);
  });
});
