import { type Camera, groundToPhoto, photoToGround } from '../../geometry/camera.ts';
import { applyHomography, type Homography } from '../../geometry/homography.ts';
import { square } from '../../statistics/square.ts';
import type { ParallelLine } from '../plane/lineProblem.ts';
import type { Pose } from '../plane/view.ts';
import { PRESENT, type RowQuestion, rowsAtTurn } from './rowsAtTurn.ts';

/** The turn of the soil about the reference is searched over this range, radians, in such steps; then finer. */
const MOST_TURN = 1.35;
const TURN_STEP = 0.04;
const SLOPES = [-0.06, -0.03, 0, 0.03, 0.06];
/** So many independent plants speak for the rows at least; common practice would be far more in one photo. */
const PLANTS = 40;
/** Prior weight of a turn no view of the camera expects, against the likeliest. */
const UNEXPECTED = Math.log(0.02);
const LEAST_EVENNESS = 0.3;
/** A second, different answer must be this much less likely (log). */
const CLEARLY = 3;
/** Planter units stand this exactly, metres; and leaves this high, which makes rows look farther apart. */
const UNIT_SD_M = 0.02;
const LEAF_HEIGHT_M = 0.04;
const LEAF_HEIGHT_SD_M = 0.03;

interface Scene {
  readonly pose: Pose;
  readonly turn: number;
  readonly slope: number;
  readonly evenness: number;
  readonly likelihood: number;
}

/**
 * Looks for the plant rows to both sides of a straight reference: the turn of the soil plane about the reference at
 * which the leaves in the photo fall into lines one row width apart (the first harmonic of their places across, less
 * the half harmonic, which tells one spacing from two). Tried for every way the camera may have been held; null when no
 * turn stands out, when only one row is seen, or when two turns fit alike. Leaves stand a little above the soil and
 * so seem farther apart: corrected for 4 cm, and the doubt of that kept.
 */
export function neighbourRows(poses: readonly Pose[], question: RowQuestion): readonly ParallelLine[] | null {
  if (poses.length === 0 || question.green.x.length < 60) return null;
  const prior = turnPrior(poses);
  const scenes: Scene[] = [];
  const tried = distinct(poses);
  for (const pose of tried) {
    for (let turn = -MOST_TURN; turn <= MOST_TURN; turn += TURN_STEP) {
      scenes.push(...sceneAt(pose, turn, SLOPES, question, prior));
    }
  }
  const best = top(scenes);
  if (best === null || best.evenness < LEAST_EVENNESS) return null;
  const rival = top(scenes.filter((s) => Math.abs(s.turn - best.turn) > 0.15));
  if (rival !== null && rival.likelihood > best.likelihood - CLEARLY) return null;

  const turns = [-4, -3, -2, -1, 0, 1, 2, 3, 4].map((k) => best.turn + (k * TURN_STEP) / 4);
  const slopes = [-3, -2, -1, 0, 1, 2, 3].map((k) => best.slope + k * 0.005);
  const fine = top(turns.flatMap((turn) => sceneAt(best.pose, turn, slopes, question, prior))) ?? best;
  const lines = linesOf(fine, question);
  return lines.length === 0 ? null : lines;
}

function sceneAt(
  pose: Pose,
  turn: number,
  slopes: readonly number[],
  question: RowQuestion,
  prior: (turn: number) => number,
): Scene[] {
  const camera = cameraTurned(pose, turn);
  if (camera === null) return [];
  const map = photoToGround(camera);
  return rowsAtTurn(map, slopes, question).map(({ slope, evenness }) => ({
    pose,
    turn,
    slope,
    evenness,
    likelihood: prior(turn) + PLANTS * square(Math.max(0, evenness)),
  }));
}

function cameraTurned(pose: Pose, turn: number): Camera | null {
  return pose.cameraAt(pose.parameters.map((v, i) => (i === 5 ? turn : v)));
}

/** The probability of a turn by how cameras are held (a mixture of Gaussians over the poses), as a log. */
function turnPrior(poses: readonly Pose[]): (turn: number) => number {
  const most = Math.max(...poses.map((p) => p.logEvidence));
  return (turn) =>
    Math.max(
      UNEXPECTED,
      ...poses.map(
        (p) =>
          p.logEvidence - most - square(turn - p.parameters[5]!) / (2 * Math.max(square(0.02), p.covariance[5]![5]!)),
      ),
    );
}

/** Poses that differ in more than the turn about the line. */
function distinct(poses: readonly Pose[]): readonly Pose[] {
  const kept: Pose[] = [];
  for (const pose of [...poses].sort((a, b) => b.logEvidence - a.logEvidence)) {
    const vanish = pose.parameters[4]!;
    if (kept.length < 3 && !kept.some((k) => Math.abs(k.parameters[4]! - vanish) < 0.02)) kept.push(pose);
  }
  return kept;
}

function top(scenes: readonly Scene[]): Scene | null {
  return scenes.reduce<Scene | null>((a, b) => (a === null || b.likelihood > a.likelihood ? b : a), null);
}

/** One line for each neighbouring row that shows enough leaves, where they lie and where they should. */
function linesOf(scene: Scene, question: RowQuestion): ParallelLine[] {
  const camera = cameraTurned(scene.pose, scene.turn);
  if (camera === null) return [];
  const { rowWidthM, fromM, toM } = question;
  const map = photoToGround(camera);
  const [found] = rowsAtTurn(map, [scene.slope], question);
  if (found === undefined) return [];
  const rows = found.rows.filter((row) => row.share > PRESENT);
  const home = rows.reduce<(typeof rows)[number] | null>(
    (a, b) => (a === null || Math.abs(b.acrossM) < Math.abs(a.acrossM) ? b : a),
    null,
  );
  if (home === null) return [];
  const height = camera.position[2];
  const seenWidth = rowWidthM * (height / (height - LEAF_HEIGHT_M));
  const others = rows.filter((row) => row !== home);
  const toPhoto: Homography = groundToPhoto(camera);
  return others.map((row) => {
    const k = Math.round((row.acrossM - home.acrossM) / rowWidthM);
    const at = (alongM: number) => applyHomography(toPhoto, [alongM, row.acrossM + scene.slope * alongM]);
    const leafSd = (Math.abs(k) * rowWidthM * LEAF_HEIGHT_SD_M) / height;
    return {
      linePx: [at(fromM), at(toM)] as const,
      acrossM: home.acrossM + k * seenWidth,
      acrossSdM: Math.sqrt(others.length * (square(UNIT_SD_M) + square(leafSd))),
      slope: scene.slope,
    };
  });
}
