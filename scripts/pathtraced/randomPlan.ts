import { seededRandom } from '../scenes/random.ts';
import { cards, cmTape, frame, inchTape, rod, type SceneSpec, sceneOf } from './plan.ts';

/**
 * A scene drawn by its seed from what an honest visit meets: any view, reference, soil, light and stage. Its difficulty is
 * whatever comes; it is called hard where weeds, straw, doubles or a low sun make it so.
 */
export function randomPlan(seed: number): SceneSpec {
  const { between, chance, pick: oneOf } = seededRandom(seed);
  const view = oneOf(['down', 'down', 'side', 'side', 'along'] as const);
  const kind = oneOf(['in', 'cm', 'in', 'cm', 'cards', 'cards', 'rod', view === 'down' ? 'frame' : 'cards'] as const);
  const long = { down: between(1.5, 2), side: between(2.4, 3.1), along: between(2, 2.6) }[view];
  const feet = Math.floor(long / 0.3048);
  const reference = {
    in: () => inchTape(feet),
    cm: () => cmTape(Math.floor(long * 10) / 10),
    cards: () => cards(Math.floor(long * 10) / 10),
    rod: () => rod(Math.min(6, feet), 0.3048, '1ft'),
    frame: () => frame,
  }[kind]();
  const age = between(0.3, 1.9);
  const sky = oneOf(['sun', 'sun', 'hazy', 'overcast'] as const);
  const elevationDeg = sky === 'overcast' ? 90 : between(20, 65);
  const weedsPerM2 = chance(0.25) ? between(12, 40) : between(0, 6);
  const strawPerM2 = chance(0.25) ? between(80, 240) : between(0, 30);
  const doubleShare = chance(0.15) ? between(0.1, 0.25) : between(0, 0.04);
  return sceneOf({
    ...reference,
    name: `pt-random-${seed}`,
    seed,
    view,
    age: [Math.max(0.15, age - 0.3), age + 0.25],
    soil: oneOf(['brown', 'dark', 'red', 'pale', 'grey']),
    surface: oneOf(['crumb', 'cloddy', 'crust']),
    light: { kind: sky, elevationDeg, azimuthDeg: sky === 'overcast' ? 0 : between(0, 360) },
    fromSide: oneOf([1, -1]),
    weedsPerM2,
    strawPerM2,
    doubleShare,
    spacingM: between(0.06, 0.13),
    spacingCv: between(0.15, 0.4),
    missShare: between(0.03, 0.25),
    eaten: between(0, 0.5),
    ownShadow: view === 'down' && sky === 'sun' && chance(0.3),
    rowY: kind === 'frame' ? 0.25 : kind === 'cards' ? between(0.19, 0.24) : between(0.08, 0.15),
    rowWidthM: oneOf([0.5588, 0.762, 0.762, 0.75]),
    hard: weedsPerM2 > 12 || strawPerM2 > 80 || doubleShare > 0.1 || elevationDeg < 25,
  });
}
