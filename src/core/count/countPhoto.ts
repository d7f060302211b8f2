import { countFindings } from './countFindings.ts';
import type { CountOptions } from './countOptions.ts';
import type { Photo } from './photo.ts';
import type { CountTools, PhotoAnalysis } from './photoAnalysis.ts';
import { preparePhoto } from './preparePhoto.ts';

/**
 * The main job: one photo to a count with its doubt. Finds the reference, straightens the row, finds the plants,
 * measures spacing, gaps and population. A photo without a trusted reference still gets its plants listed, without
 * any length, and the reason.
 */
export async function countPhoto(photo: Photo, options: CountOptions, tools: CountTools): Promise<PhotoAnalysis> {
  const prepared = preparePhoto(photo, options, tools.nowMs);
  const findings = await tools.findPlants(prepared.strip, prepared.search);
  return countFindings(prepared, findings, tools.detector, tools.nowMs());
}
