import type { PlantFindings } from '../plants/detection.ts';
import { square } from '../statistics/square.ts';
import type { Strip } from '../straighten/strip.ts';

/** The same picture, taken for one whose pixels are `factor` times as large on the ground. */
export function rescaledStrip(strip: Strip, factor: number): Strip {
  const { mmPerPx, alongAtLeftM, acrossAtTopM, camera } = strip;
  return {
    ...strip,
    mmPerPx: mmPerPx * factor,
    alongAtLeftM: alongAtLeftM * factor,
    acrossAtTopM: acrossAtTopM * factor,
    camera: camera && {
      alongM: camera.alongM * factor,
      acrossM: camera.acrossM * factor,
      heightM: camera.heightM * factor,
    },
  };
}

/** Findings of a strip in the lengths of the same strip rescaled by `factor`; places in strip pixels stay. */
export function rescaledFindings(findings: PlantFindings, factor: number): PlantFindings {
  const { detections, rowLine, warnings } = findings;
  return {
    detections: detections.map((d) => ({
      ...d,
      leafAreaMm2: d.leafAreaMm2 * square(factor),
      alongSdMm: d.alongSdMm * factor,
    })),
    rowLine: rowLine && {
      acrossAtZeroM: rowLine.acrossAtZeroM * factor,
      slope: rowLine.slope,
      sdM: rowLine.sdM * factor,
    },
    warnings,
  };
}
