import type { CameraCues, FoundLine } from '../reference.ts';
import type { SoilPlane } from './planeFromPoses.ts';

/** What fixed the plane beside a line, in plain words, strongest first. */
export function planeCues(line: FoundLine, cues: CameraCues, parallelLines: number, plane: SoilPlane): string[] {
  const count = line.readings.length;
  const best = plane.poses[0]!;
  return [
    `${count} readings along the ${line.kind === 'marks' ? 'marks' : line.kind}`,
    ...(cues.gravity === null ? [] : ['gravity as the phone recorded it']),
    ...(cues.heightGiven ? [`camera height given, ${cues.heightM.toFixed(2)} m`] : []),
    ...(parallelLines === 0 ? [] : [`${parallelLines} neighbouring rows at the row width`]),
    cues.focalPx === null ? 'focal length guessed, as of a usual phone' : 'focal length from the file',
    ...(cues.gravity === null
      ? [`how cameras are usually held (${best.pose.view}, ${Math.round(100 * best.share)} %)`]
      : []),
    ...(cues.heightGiven ? [] : [`camera height taken as about ${cues.heightM.toFixed(1)} m`]),
  ];
}
