/**
 * How well the soil plane is found, printed for many random cameras from a fixed seed: a tape with each cue alone, a
 * plain rod, two marks, two marker cards. Ideal pinhole cameras over level soil: relief, lens and finding errors other
 * than the noise stated here come on top. Run: npx tsx scripts/plane-check.ts [trials per case]
 */
import { cardsTrial } from './plane/cardsTrial.ts';
import { type CueName, lineTrial, type Trial } from './plane/lineTrial.ts';
import { HEAD, printTrials } from './plane/printTrials.ts';
import { randomCamera } from './plane/randomCamera.ts';
import { seededRandom } from './scenes/random.ts';

const trials = Number(process.argv[2] ?? 60);
const lengthOf = { down: 2, side: 3.048, along: 2.5 } as const;

function run(each: (random: ReturnType<typeof seededRandom>) => Trial | null): Trial[] {
  const out: Trial[] = [];
  for (let seed = 1; out.length < trials && seed < 20 * trials; seed++) {
    const trial = each(seededRandom(seed));
    if (trial !== null) out.push(trial);
  }
  return out;
}

if (process.argv[3] !== 'cards')
  for (const noise of [0, 1]) {
    console.log(
      noise === 0
        ? '\nTape, exact readings and cues'
        : '\nTape, readings 0.7 px, focal length 1.5 %, height 5 cm, row level 5 mm, gravity and slope 1.5 degrees each',
    );
    console.log(HEAD);
    for (const view of ['down', 'side', 'along'] as const) {
      for (const focalKnown of [true, false]) {
        for (const cue of ['none', 'height', 'gravity', 'row'] as const satisfies readonly CueName[]) {
          const name = `${view}, focal ${focalKnown ? 'known' : 'unknown'}, ${cue === 'none' ? 'no further cue' : cue}`;
          printTrials(
            name,
            run((random) =>
              lineTrial(
                randomCamera(view, lengthOf[view], random),
                lengthOf[view],
                0.1,
                cue,
                focalKnown,
                noise,
                random,
              ),
            ),
          );
        }
      }
    }
  }
console.log('\nPlain rod or two marks: two readings only, with noise, focal length known');
console.log(HEAD);
for (const view of ['down', 'side', 'along'] as const) {
  for (const cue of ['none', 'height', 'gravity'] as const) {
    printTrials(
      `${view}, ${cue === 'none' ? 'no further cue' : cue}`,
      run((random) =>
        lineTrial(randomCamera(view, lengthOf[view], random), lengthOf[view], lengthOf[view], cue, true, 1, random),
      ),
    );
  }
}

console.log('\nTwo marker cards, corners to 0.12 px, no further cue; focal length known to 1.5 %');
console.log(HEAD);
for (const view of ['down', 'side', 'along'] as const) {
  for (const [relief, name] of [
    [0, 'level soil'],
    [1, 'cards lean 2.5 degrees, 4 mm relief'],
  ] as const) {
    for (const focalKnown of [true, false]) {
      printTrials(
        `${view}, ${relief === 0 ? name : 'relief'}, focal ${focalKnown ? 'known' : 'unknown'}`,
        run((random) =>
          cardsTrial(randomCamera(view, lengthOf[view], random), 0.9 * lengthOf[view], focalKnown, relief, random),
        ),
      );
    }
  }
}
