import { buildScene } from '../buildScene.ts';
import type { SceneSpec } from '../spec.ts';
import { truthOf } from '../truth.ts';
import { openStage, renderScene } from './renderScene.ts';
import { boxOf, visibleShares } from './visibleShare.ts';

/** Called by the Node side for one scene: posts the pixels, returns the truth and where the time went. */
async function makePicture(
  spec: SceneSpec,
  markerCodes: readonly string[],
): Promise<{ truth: Record<string, unknown>; seconds: Record<string, number> }> {
  const start = performance.now();
  await document.fonts.ready;
  const built = buildScene(spec);
  const builtS = (performance.now() - start) / 1000;
  const stage = openStage();
  const { pixels, seconds } = renderScene(stage, spec, built, markerCodes);
  await fetch('/pixels', { method: 'POST', body: pixels as Uint8Array<ArrayBuffer> });
  const shares = visibleShares(stage, built);
  const views = built.plants.map((p, i) => ({ ...shares[i]!, boxPx: boxOf(built, p.firstVertex, p.vertexCount, 1) }));
  return {
    truth: truthOf(spec, built, views),
    seconds: { build: Math.round(builtS * 1000) / 1000, ...seconds, all: Math.round(performance.now() - start) / 1000 },
  };
}

Object.assign(globalThis, { makePicture });
