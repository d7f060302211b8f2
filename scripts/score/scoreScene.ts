import type { CountResult } from '../../src/core/count/countResult.ts';
import { applyHomography, invertHomography } from '../../src/core/geometry/homography.ts';
import { f1, matchPoints } from './matchPoints.ts';
import type { SceneTruth } from './sceneTruth.ts';

/** A found plant is right when its stem base lies within this of a true one. */
export const MATCH_WITHIN_M = 0.035;
/** A gap is found when both its ends are within this of the true ones. */
const GAP_ENDS_WITHIN_M = 0.05;

export interface SceneScore {
  readonly scaleFound: boolean;
  /** Error of the length between the reference's true ends, per cent; null without a scale. */
  readonly scaleErrorPct: number | null;
  readonly warned: boolean;
  readonly trueCount: number;
  readonly count: number;
  readonly covered: boolean;
  readonly f1: number | null;
  readonly matched: number;
  readonly missed: number;
  readonly falseAlarms: number;
  readonly spacingErrorsMm: readonly number[];
  readonly gapsTrue: number;
  readonly gapsFound: number;
  /** Error of both ends of every true gap against the listed gap that overlaps it most. */
  readonly gapEndErrorsMm: readonly number[];
}

/** Scores one result against a scene's truth. Points are compared on the true ground, through the photo pixels given. */
export function scoreScene(result: CountResult, truth: SceneTruth): SceneScore {
  const toTrue = (x: number, y: number) => applyHomography(truth.photoToGround, [x, y]);
  const truePlants = truth.plants.filter((p) => p.kind === 'plant' && p.inStretch);
  const counted = result.plants.filter((p) => p.kind === 'plant' && p.inStretch);
  const found = counted.map((p) => toTrue(p.xPx, p.yPx));
  const matching = matchPoints(
    found,
    truePlants.map((p) => [p.alongM, p.acrossM]),
    MATCH_WITHIN_M,
  );
  const pairs = matching.pairs
    .map(([f, t]) => ({ foundM: counted[f]!.alongM, trueM: truePlants[t]!.alongM }))
    .filter((p): p is { foundM: number; trueM: number } => p.foundM !== null)
    .sort((a, b) => a.trueM - b.trueM);
  const spacingErrorsMm = pairs
    .slice(1)
    .map((p, i) => (Math.abs(p.foundM - pairs[i]!.foundM) - (p.trueM - pairs[i]!.trueM)) * 1000);
  return {
    scaleFound: result.stretch !== null,
    scaleErrorPct: scaleError(result, truth),
    warned: result.warnings.length > 0,
    trueCount: truePlants.length,
    count: result.count.value,
    covered: result.count.low <= truePlants.length && truePlants.length <= result.count.high,
    f1: f1(matching),
    matched: matching.pairs.length,
    missed: matching.missed.length,
    falseAlarms: matching.falseAlarms.length,
    spacingErrorsMm,
    gapsTrue: truth.gaps30cm.length,
    gapsFound: gapsFound(result, truth),
    gapEndErrorsMm: gapEndErrors(result, truth),
  };
}

/** Error of the distance between the two ends of the true stretch along the row line, through the found plane. */
function scaleError({ reference }: CountResult, truth: SceneTruth): number | null {
  if (reference.photoToGround === null) return null;
  const groundToPhoto = invertHomography(truth.photoToGround);
  const { fromM, toM } = truth.stretch;
  const [a] = applyHomography(reference.photoToGround, applyHomography(groundToPhoto, [fromM, 0]));
  const [b] = applyHomography(reference.photoToGround, applyHomography(groundToPhoto, [toM, 0]));
  return (Math.abs(b - a) / (toM - fromM) - 1) * 100;
}

/** True gaps that a listed gap matches at both ends. */
function gapsFound(result: CountResult, truth: SceneTruth): number {
  const ends = gapsOnTrueGround(result, truth);
  return truth.gaps30cm.filter((gap) =>
    ends.some(
      ([from, to]) => Math.abs(from - gap.fromM) <= GAP_ENDS_WITHIN_M && Math.abs(to - gap.toM) <= GAP_ENDS_WITHIN_M,
    ),
  ).length;
}

function gapEndErrors(result: CountResult, truth: SceneTruth): readonly number[] {
  const listed = gapsOnTrueGround(result, truth);
  return truth.gaps30cm.flatMap((gap) => {
    const overlap = ([from, to]: readonly [number, number]) => Math.min(to, gap.toM) - Math.max(from, gap.fromM);
    const best = [...listed].sort((a, b) => overlap(b) - overlap(a))[0];
    if (best === undefined || overlap(best) <= 0) return [];
    return [(best[0] - gap.fromM) * 1000, (best[1] - gap.toM) * 1000];
  });
}

/** Listed gaps, their ends along the row on the true ground. */
function gapsOnTrueGround(
  { gaps, reference }: Pick<CountResult, 'gaps' | 'reference'>,
  truth: SceneTruth,
): readonly (readonly [number, number])[] {
  if (reference.photoToGround === null || gaps.length === 0) return [];
  const back = invertHomography(reference.photoToGround);
  return gaps.map((gap) => {
    const [a] = applyHomography(truth.photoToGround, applyHomography(back, [gap.fromM, 0]));
    const [b] = applyHomography(truth.photoToGround, applyHomography(back, [gap.toM, 0]));
    return [Math.min(a, b), Math.max(a, b)] as const;
  });
}
