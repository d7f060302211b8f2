import * as THREE from 'three';
import type { BuiltScene } from '../buildScene.ts';
import { soilMesh } from '../soilMesh.ts';
import { type Stage3d, threeCamera } from './renderScene.ts';
import { idFragment, idVertex } from './shaders.ts';

/** Share of each plant's own outline inside the picture that nothing hides, by drawing plant numbers at half size. */
export function visibleShares(stage: Stage3d, built: BuiltScene): { share: number; seenPx: number }[] {
  const { renderer } = stage;
  const width = Math.round(built.camera.widthPx / 2);
  const height = Math.round(built.camera.heightPx / 2);
  const target = new THREE.WebGLRenderTarget(width, height, {
    minFilter: THREE.NearestFilter,
    magFilter: THREE.NearestFilter,
  });
  const shader = new THREE.ShaderMaterial({
    vertexShader: idVertex,
    fragmentShader: idFragment,
    side: THREE.DoubleSide,
    glslVersion: THREE.GLSL3,
  });
  const camera = threeCamera(built);
  const meshOf = (m: BuiltScene['things']): THREE.Mesh => {
    const g = new THREE.BufferGeometry();
    g.setAttribute('position', new THREE.BufferAttribute(m.positions, 3));
    g.setAttribute('surface', new THREE.BufferAttribute(m.surface, 4));
    g.setAttribute('plantId', new THREE.BufferAttribute(m.ids, 1));
    g.setIndex(new THREE.BufferAttribute(m.indices, 1));
    const mesh = new THREE.Mesh(g, shader);
    mesh.frustumCulled = false;
    return mesh;
  };
  const things = meshOf(built.things);
  const all = new THREE.Scene();
  all.add(things, meshOf(soilMesh(built.camera, built.soil, 12).fine), ...built.printed.map((p) => meshOf(p.mesh)));

  const draw = (scene: THREE.Object3D): void => {
    renderer.setRenderTarget(target);
    renderer.setClearColor(0, 1);
    renderer.clear();
    renderer.render(scene, camera);
  };
  const pixels = new Uint8Array(width * height * 4);
  draw(all);
  renderer.readRenderTargetPixels(target, 0, 0, width, height, pixels);
  const seen = new Float64Array(built.plants.length + 1);
  for (let i = 0; i < pixels.length; i += 4) seen[pixels[i]! + 256 * pixels[i + 1]!]! += 1;

  const alone = new THREE.Scene();
  alone.add(things);
  return built.plants.map((plant) => {
    const seenPx = 4 * seen[plant.id]!;
    // Neighbour rows are not counted: for them, seen at all is enough.
    if (plant.kind === 'neighbour' || seenPx === 0) return { share: Math.min(1, seenPx), seenPx };
    const box = boxOf(built, plant.firstVertex, plant.vertexCount, 0.5);
    const [x0, y0] = [Math.max(0, Math.floor(box[0]) - 1), Math.max(0, Math.floor(box[1]) - 1)];
    const [x1, y1] = [Math.min(width, Math.ceil(box[2]) + 2), Math.min(height, Math.ceil(box[3]) + 2)];
    if (x1 <= x0 || y1 <= y0) return { share: 0, seenPx: 0 };
    things.geometry.setDrawRange(plant.firstIndex, plant.indexCount);
    target.scissorTest = true;
    target.scissor.set(x0, height - y1, x1 - x0, y1 - y0);
    draw(alone);
    const own = new Uint8Array((x1 - x0) * (y1 - y0) * 4);
    renderer.readRenderTargetPixels(target, x0, height - y1, x1 - x0, y1 - y0, own);
    let count = 0;
    for (let i = 0; i < own.length; i += 4) if (own[i]! + 256 * own[i + 1]! === plant.id) count++;
    return { share: count === 0 ? 0 : Math.min(1, seen[plant.id]! / count), seenPx };
  });
}

/** Pixel box (left, top, right, bottom) of a run of vertices, times `scale`. */
export function boxOf(
  built: BuiltScene,
  first: number,
  count: number,
  scale: number,
): [number, number, number, number] {
  const c = built.camera;
  const box: [number, number, number, number] = [1e9, 1e9, -1e9, -1e9];
  for (let i = first; i < first + count; i++) {
    const [dx, dy, dz] = [0, 1, 2].map((k) => built.things.positions[i * 3 + k]! - c.position[k as 0]) as [
      number,
      number,
      number,
    ];
    const depth = dx * c.ahead[0] + dy * c.ahead[1] + dz * c.ahead[2];
    if (depth <= 0.05) continue;
    const x = (c.cxPx + (c.focalPx * (dx * c.right[0] + dy * c.right[1] + dz * c.right[2])) / depth) * scale;
    const y = (c.cyPx + (c.focalPx * (dx * c.down[0] + dy * c.down[1] + dz * c.down[2])) / depth) * scale;
    box[0] = Math.min(box[0], x);
    box[1] = Math.min(box[1], y);
    box[2] = Math.max(box[2], x);
    box[3] = Math.max(box[3], y);
  }
  return box;
}
