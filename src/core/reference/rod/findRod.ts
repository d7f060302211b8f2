import type { Raster } from '../../raster/raster.ts';
import type { CameraCues, FoundLine, NoReference } from '../reference.ts';

export type RodRequest =
  | { readonly kind: 'rod'; readonly lengthM: number }
  | { readonly kind: 'rod'; readonly bandM: number };

export function findRod(
  _photo: Raster,
  _request: RodRequest,
  _camera: Pick<CameraCues, 'focalPx' | 'heightM' | 'heightSdM'>,
): FoundLine | NoReference {
  return { kind: 'none', reason: 'not yet', warnings: [] };
}
