import * as THREE from 'three';
import type { Region } from '../litter.ts';
import type { Vec3 } from '../vector.ts';

export type DepthMap = { readonly texture: THREE.DepthTexture; readonly matrix: THREE.Matrix4 };

/** An orthographic camera that looks along the light over a box of ground, 15 cm deep and 45 cm high. */
function lightCamera(direction: Vec3, region: Region): THREE.OrthographicCamera {
  const camera = new THREE.OrthographicCamera(-1, 1, 1, -1, 0, 60);
  const middle = new THREE.Vector3(
    (region.fromAlongM + region.toAlongM) / 2,
    (region.fromAcrossM + region.toAcrossM) / 2,
    0,
  );
  camera.up.set(Math.abs(direction[2]) > 0.95 ? 1 : 0, 0, Math.abs(direction[2]) > 0.95 ? 0 : 1);
  camera.position.copy(middle).addScaledVector(new THREE.Vector3(...direction), 30);
  camera.lookAt(middle);
  camera.updateMatrixWorld();
  const box = new THREE.Box3();
  for (const x of [region.fromAlongM, region.toAlongM]) {
    for (const y of [region.fromAcrossM, region.toAcrossM]) {
      for (const z of [-0.06, 0.16])
        box.expandByPoint(new THREE.Vector3(x, y, z).applyMatrix4(camera.matrixWorldInverse));
    }
  }
  Object.assign(camera, {
    left: box.min.x,
    right: box.max.x,
    bottom: box.min.y,
    top: box.max.y,
    near: -box.max.z - 4,
    far: -box.min.z + 0.5,
  });
  camera.updateProjectionMatrix();
  return camera;
}

/** Makes depth maps of one size, one after the other, from what is in `scene`. */
export function depthMapper(
  renderer: THREE.WebGLRenderer,
  sizePx: number,
): (scene: THREE.Scene, direction: Vec3, region: Region) => DepthMap {
  const target = new THREE.WebGLRenderTarget(sizePx, sizePx, {
    depthBuffer: true,
    magFilter: THREE.NearestFilter,
    minFilter: THREE.NearestFilter,
  });
  target.depthTexture = new THREE.DepthTexture(sizePx, sizePx, THREE.FloatType);
  return (scene, direction, region) => {
    const camera = lightCamera(direction, region);
    renderer.setRenderTarget(target);
    renderer.clear();
    renderer.render(scene, camera);
    const matrix = new THREE.Matrix4().multiplyMatrices(camera.projectionMatrix, camera.matrixWorldInverse);
    return { texture: target.depthTexture as THREE.DepthTexture, matrix };
  };
}
