import type { Raster } from '../../raster/raster.ts';
import { lineOfLength } from '../line/lineOfLength.ts';
import { ribbonWidth } from '../line/ribbon.ts';
import type { CameraCues, FoundLine, NoReference } from '../reference.ts';
import { graduatedLine } from './graduatedLine.ts';
import { readGraduations } from './readGraduations.ts';
import type { RibbonCandidate } from './tapeRibbons.ts';

const AGREE = 0.03;
/** An end may be hidden or a length misremembered by this much; between units the difference is more (a fourth at least). */
const HIDDEN = 0.12;
/** Graduations read to this share (1 sd) say more than two ends. */
const SURE_SHARE = 0.005;
/** A reading whose score is this far below the best agrees by chance. */
const LIKELY = 4;

/**
 * A tape whose whole visible length is known: both ends must be in the photo. Graduations that can be read surely give the
 * readings, and a length that they contradict is said; faint ones give the foreshortening, and without them the taper of
 * the ribbon.
 */
export function tapeOfLength(
  photo: Raster,
  candidates: readonly RibbonCandidate[],
  lengthM: number,
  camera: Pick<CameraCues, 'focalPx' | 'heightM' | 'heightSdM'>,
): FoundLine | NoReference {
  const whole = candidates.filter((c) => c.extent.endsSeen[0] && c.extent.endsSeen[1]);
  const chosen = whole[0] ?? candidates[0]!;
  const { ribbon, colour } = chosen.extent;
  const taperSd = chosen.traced.taperSdPx / ribbonWidth(ribbon, (ribbon.fromS + ribbon.toS) / 2);
  const readings = readGraduations(photo, ribbon, colour, taperSd, camera);
  const near = readings
    .filter((r) => Math.abs(r.lengthM / lengthM - 1) < 0.35)
    .sort((a, b) => Math.abs(a.lengthM / lengthM - 1) - Math.abs(b.lengthM / lengthM - 1))[0];
  if (whole.length === 0) {
    return {
      kind: 'none',
      code: 'tape-ends-hidden',
      values: { lengthM },
      reason: `a strip like a tape is in the photo, but not both of its ends, so its whole length of ${lengthM.toFixed(2)} m does not give the scale: show both ends, or name the graduations (tape:in, tape:cm)`,
      warnings: [],
    };
  }
  if (near !== undefined && near.fit.agreeing > 0.7) {
    const read = graduatedLine(chosen.extent, chosen.traced, near, []);
    const off = read.endsM[1] / lengthM - 1;
    // its own graduations say more than its ends: a hook, a worn tip or soil hides a centimetre of them
    const likely = near.score > readings[0]!.score - LIKELY;
    const sure = likely && near.fit.followed && near.fit.lengthSdPeriods * near.periodM < SURE_SHARE * near.lengthM;
    const warnings =
      Math.abs(off) <= AGREE
        ? []
        : [
            {
              code: 'length-disagrees',
              message: `the graduations between the ends read ${read.endsM[1].toFixed(3)} m, not ${lengthM.toFixed(3)} m (${(100 * off).toFixed(1)} %): an end may be hidden or the length wrong; taken is ${sure && Math.abs(off) <= HIDDEN ? 'what the graduations say' : 'the length named'}`,
            },
          ];
    if (sure && Math.abs(off) <= HIDDEN) return { ...read, warnings: [...warnings, ...read.warnings] };
    const scaled = { ...near, periodM: near.periodM / (1 + off) };
    return graduatedLine(chosen.extent, chosen.traced, scaled, warnings);
  }
  return lineOfLength('tape', chosen, lengthM, []);
}
