import * as THREE from 'three';
import type { BuiltScene } from '../buildScene.ts';
import type { Mesh } from '../mesh.ts';
import { soilMesh } from '../soilMesh.ts';
import type { SceneSpec } from '../spec.ts';
import { add, heading, scale } from '../vector.ts';
import { depthMapper } from './depthMap.ts';
import { detailTexture } from './detailTexture.ts';
import { makeLighting } from './lighting.ts';
import { drawPrint } from './prints.ts';
import * as glsl from './shaders.ts';

const SKY_WIDTH = 2048;
const SKY_DIRECTIONS = 14;
const SOIL_STEP_PX = 4;

type Part = {
  geometry: THREE.BufferGeometry;
  firstVertex: number;
  count: number;
  source: Mesh;
  print: THREE.Texture | null;
};
export type Stage3d = { readonly renderer: THREE.WebGLRenderer; readonly detail: THREE.Texture };

export function openStage(): Stage3d {
  const renderer = new THREE.WebGLRenderer({ antialias: false });
  renderer.autoClear = false;
  renderer.shadowMap.enabled = false;
  renderer.outputColorSpace = THREE.LinearSRGBColorSpace;
  return { renderer, detail: detailTexture(2) };
}

function geometryOf(mesh: Mesh, indices = mesh.indices): THREE.BufferGeometry {
  const g = new THREE.BufferGeometry();
  g.setAttribute('position', new THREE.BufferAttribute(mesh.positions, 3));
  g.setAttribute('normal', new THREE.BufferAttribute(mesh.normals, 3));
  g.setAttribute('tint', new THREE.BufferAttribute(mesh.colours, 3));
  g.setAttribute('surface', new THREE.BufferAttribute(mesh.surface, 4));
  g.setAttribute('plantId', new THREE.BufferAttribute(mesh.ids, 1));
  g.setIndex(new THREE.BufferAttribute(indices, 1));
  return g;
}

function material(
  vertexShader: string,
  fragmentShader: string,
  uniforms: Record<string, THREE.IUniform>,
  defines: readonly string[] = [],
): THREE.ShaderMaterial {
  return new THREE.ShaderMaterial({
    vertexShader,
    fragmentShader,
    uniforms,
    side: THREE.DoubleSide,
    defines: Object.fromEntries(defines.map((d) => [d, 1])),
    glslVersion: THREE.GLSL3,
  });
}

function sceneOf(geometries: readonly THREE.BufferGeometry[], of: (i: number) => THREE.Material): THREE.Scene {
  const scene = new THREE.Scene();
  geometries.forEach((g, i) => {
    const mesh = new THREE.Mesh(g, of(i));
    mesh.frustumCulled = false;
    scene.add(mesh);
  });
  scene.matrixWorldAutoUpdate = false;
  return scene;
}

function fullScreen(
  renderer: THREE.WebGLRenderer,
  shader: THREE.ShaderMaterial,
  target: THREE.WebGLRenderTarget | null,
): void {
  const quad = new THREE.Mesh(new THREE.PlaneGeometry(2, 2), shader);
  quad.frustumCulled = false;
  shader.depthTest = false;
  shader.depthWrite = false;
  renderer.setRenderTarget(target);
  renderer.render(quad, new THREE.Camera());
  quad.geometry.dispose();
}

/** The camera of the scene as three.js wants it (y up, looking down -z). */
export function threeCamera(built: BuiltScene): THREE.PerspectiveCamera {
  const c = built.camera;
  const fov = (2 * Math.atan(c.heightPx / 2 / c.focalPx) * 180) / Math.PI;
  const camera = new THREE.PerspectiveCamera(fov, c.widthPx / c.heightPx, 0.05, 60);
  const basis = new THREE.Matrix4().makeBasis(
    new THREE.Vector3(...c.right),
    new THREE.Vector3(...scale(c.down, -1)),
    new THREE.Vector3(...scale(c.ahead, -1)),
  );
  camera.matrixAutoUpdate = false;
  camera.matrix.copy(basis.setPosition(...(c.position as [number, number, number])));
  camera.matrixWorld.copy(camera.matrix);
  camera.matrixWorldInverse.copy(camera.matrix).invert();
  return camera;
}

/** A standing person with raised arms, for the shadow alone. */
function photographer(built: BuiltScene): THREE.BufferGeometry[] {
  const [x, y, h] = built.camera.position;
  const back = heading(Math.atan2(-built.camera.ahead[1], -built.camera.ahead[0]), 0);
  const lump = (size: [number, number, number], at: readonly [number, number, number]): THREE.BufferGeometry => {
    const g = new THREE.SphereGeometry(1, 20, 14).scale(...size).translate(at[0], at[1], at[2]);
    g.setAttribute('surface', new THREE.BufferAttribute(new Float32Array(g.getAttribute('position').count * 4), 4));
    return g;
  };
  const stand = add([x, y, 0], scale(back, 0.9));
  return [
    lump([0.22, 0.22, 0.42], [stand[0], stand[1], h - 0.25]),
    lump([0.17, 0.17, 0.5], [stand[0], stand[1], h - 0.85]),
    lump([0.09, 0.09, 0.5], [stand[0] - 0.12, stand[1], 0.42]),
    lump([0.09, 0.09, 0.5], [stand[0] + 0.12, stand[1], 0.42]),
    lump([0.1, 0.1, 0.14], [stand[0], stand[1], h + 0.22]),
    lump([0.13, 0.13, 0.06], add([x, y, h - 0.02], scale(back, 0.05))),
    lump([0.12, 0.45, 0.07], add([x, y, h - 0.04], scale(back, 0.5))),
  ];
}

/** Light that reaches each vertex from the whole sky, by a depth map per sky direction. */
function gatherSky(
  stage: Stage3d,
  parts: readonly Part[],
  casters: THREE.Scene,
  built: BuiltScene,
  lighting: ReturnType<typeof makeLighting>,
): THREE.WebGLRenderTarget {
  const last = parts[parts.length - 1] as Part;
  const rows = Math.ceil((last.firstVertex + last.count) / SKY_WIDTH);
  const fill = (pick: (m: Mesh) => Float32Array): THREE.DataTexture => {
    const data = new Float32Array(SKY_WIDTH * rows * 4);
    for (const part of parts) {
      const from = pick(part.source);
      for (let i = 0; i < part.count; i++)
        for (let k = 0; k < 3; k++) data[(part.firstVertex + i) * 4 + k] = from[i * 3 + k]!;
    }
    const texture = new THREE.DataTexture(data, SKY_WIDTH, rows, THREE.RGBAFormat, THREE.FloatType);
    texture.needsUpdate = true;
    return texture;
  };
  const target = new THREE.WebGLRenderTarget(SKY_WIDTH, rows, {
    type: THREE.HalfFloatType,
    minFilter: THREE.NearestFilter,
    magFilter: THREE.NearestFilter,
    depthBuffer: false,
  });
  stage.renderer.setRenderTarget(target);
  stage.renderer.setClearColor(0, 0);
  stage.renderer.clear();
  const shader = material(glsl.quadVertex, glsl.skyFragment, {
    points: { value: fill((m) => m.positions) },
    normals: { value: fill((m) => m.normals) },
    depthMap: { value: null },
    toDepth: { value: null },
    direction: { value: null },
    weight: { value: 0 },
    biasM: { value: 0.0035 },
  });
  Object.assign(shader, {
    blending: THREE.CustomBlending,
    blendSrc: THREE.OneFactor,
    blendDst: THREE.OneFactor,
    blendEquation: THREE.AddEquation,
    transparent: true,
  });
  const mapper = depthMapper(stage.renderer, 1280);
  for (const { direction, weight } of lighting.directions) {
    const map = mapper(casters, direction, built.near);
    Object.assign(shader.uniforms, {
      depthMap: { value: map.texture },
      toDepth: { value: map.matrix },
      direction: { value: new THREE.Vector3(...direction) },
      weight: { value: weight },
    });
    fullScreen(stage.renderer, shader, target);
  }
  return target;
}

/** Weights of a 3 x 3 blur: middle, edge, corner. */
function gaussian3(sigmaPx: number): THREE.Vector3 {
  const side = Math.exp(-1 / (2 * sigmaPx * sigmaPx));
  const total = (1 + 2 * side) ** 2;
  return new THREE.Vector3(1 / total, side / total, (side * side) / total);
}

export type Rendered = { readonly pixels: Uint8Array; readonly seconds: Record<string, number> };

/** Renders the scene to display pixels, RGBA, bottom row first. */
export function renderScene(
  stage: Stage3d,
  spec: SceneSpec,
  built: BuiltScene,
  markerCodes: readonly string[],
): Rendered {
  const { renderer } = stage;
  const clock = performance.now();
  const seconds: Record<string, number> = {};
  const lap = (name: string): void => {
    const current = renderer.getRenderTarget();
    if (current !== null)
      renderer.readRenderTargetPixels(
        current,
        0,
        0,
        1,
        1,
        current.texture.type === THREE.HalfFloatType ? new Uint16Array(4) : new Uint8Array(4),
      );
    seconds[name] = Math.round(performance.now() - clock) / 1000;
  };
  const soil = soilMesh(built.camera, built.soil, SOIL_STEP_PX);
  lap('soil');
  const sources: { mesh: Mesh; print: THREE.Texture | null }[] = [
    { mesh: soil.fine, print: null },
    { mesh: built.things, print: null },
    { mesh: built.crumbs, print: null },
  ];
  for (const p of built.printed) {
    const texture = new THREE.CanvasTexture(drawPrint(p.print, markerCodes));
    Object.assign(texture, {
      colorSpace: THREE.SRGBColorSpace,
      flipY: false,
      anisotropy: 16,
      generateMipmaps: true,
      minFilter: THREE.LinearMipmapLinearFilter,
    });
    sources.push({ mesh: p.mesh, print: texture });
  }
  let firstVertex = 0;
  const parts: Part[] = sources.map(({ mesh, print }) => {
    const part = { geometry: geometryOf(mesh), firstVertex, count: mesh.positions.length / 3, source: mesh, print };
    firstVertex += part.count;
    return part;
  });

  const lighting = makeLighting(spec.light, SKY_DIRECTIONS);
  const depth = material(glsl.depthVertex, glsl.depthFragment, {});
  const depthHoled = material(glsl.depthVertex, glsl.depthFragment, {}, ['THINGS']);
  const casters = (soilGeometry: THREE.BufferGeometry, more: readonly THREE.BufferGeometry[] = []): THREE.Scene =>
    sceneOf([soilGeometry, ...more], (i) => (i === 1 ? depthHoled : depth));
  const solid = parts.filter((_, i) => i !== 0 && i !== 2).map((p) => p.geometry);
  const coarse = geometryOf(soil.fine, soil.coarseIndices);
  const sky = gatherSky(stage, parts, casters(coarse, solid), built, lighting);
  lap('sky');

  const shading = spec.light.sky !== 'overcast';
  const person = spec.light.photographerShadow ? photographer(built) : [];
  const fine = casters(parts[0]!.geometry, shading ? [...solid, parts[2]!.geometry, ...person] : []);
  const near = depthMapper(renderer, shading ? 6144 : 16)(fine, lighting.sunDirection, built.near);
  lap('near');
  // Far off the soil casts no shadow: a map that coarse would only draw its own triangles.
  const far = depthMapper(renderer, shading ? 2048 : 16)(
    sceneOf(shading ? [...solid, ...person] : [], (i) => (i === 0 ? depthHoled : depth)),
    lighting.sunDirection,
    built.visible,
  );
  lap('sun');

  const wetness = spec.soil.tone === 'dark-wet' ? 0.9 : 0;
  const middle = built.soil.colour((spec.stretch.fromM + spec.stretch.toM) / 2 + 0.01, spec.rowAcrossM + 0.15, 0.05);
  const level = lighting.sun.map((s, k) => s * lighting.sunDirection[2] + (lighting.sky[k] as number));
  const albedo = 0.3 * middle[0] + 0.6 * middle[1] + 0.1 * middle[2];
  const shared = {
    skyLight: { value: sky.texture },
    detail: { value: stage.detail },
    sunNear: { value: near.texture },
    sunFar: { value: far.texture },
    toNear: { value: near.matrix },
    toFar: { value: far.matrix },
    sunDirection: { value: new THREE.Vector3(...lighting.sunDirection) },
    sunColour: { value: new THREE.Vector3(...lighting.sun) },
    skyColour: { value: new THREE.Vector3(...lighting.sky) },
    bounce: { value: new THREE.Vector3(...middle.map((m, k) => m * (level[k] as number) * 0.55)) },
    wet: { value: wetness },
    dust: { value: spec.crop.dust },
    dustColour: { value: new THREE.Vector3(...scale(middle, 1.25)) },
    softness: { value: spec.light.sky === 'hazy' ? 2.6 : 1.1 },
    relief: { value: 0.85 },
    eye: { value: new THREE.Vector3(...built.camera.position) },
  };
  // Software renderers run every branch for every pixel, so each surface gets a program with only what it needs.
  const features = [...(shading ? ['SUN'] : []), ...(spec.camera.view === 'down' ? [] : ['FAR'])];
  const view = sceneOf(
    parts.map((p) => p.geometry),
    (i) =>
      material(
        glsl.sceneVertex,
        glsl.sceneFragment,
        { ...shared, firstVertex: { value: parts[i]!.firstVertex }, print: { value: parts[i]!.print } },
        [...features, ['SOIL', 'THINGS', 'STONE'][i] ?? 'PRINT', ...(i === 0 && wetness === 0 ? [] : ['GLOSS'])],
      ),
  );
  const { widthPx, heightPx } = spec;
  const hdr = new THREE.WebGLRenderTarget(widthPx, heightPx, { type: THREE.HalfFloatType, samples: 4 });
  renderer.setRenderTarget(hdr);
  renderer.setClearColor(new THREE.Color(0.5, 0.6, 0.75), 1);
  renderer.clear();
  renderer.render(view, threeCamera(built));
  lap('view');

  const lum = albedo * (0.3 * (level[0] as number) + 0.6 * (level[1] as number) + 0.1 * (level[2] as number));
  const key = 0.2 * Math.sqrt(Math.sqrt(albedo / 0.15)) * 2 ** spec.light.exposureStops;
  const grey = (level[0]! + level[1]! + level[2]!) / 3;
  const balance = level.map((l) => (grey / (l as number)) ** 0.75);
  const phone = spec.seed % 7;
  const out = { type: THREE.UnsignedByteType, depthBuffer: false } as const;
  const exposed = new THREE.WebGLRenderTarget(widthPx, heightPx, out);
  fullScreen(
    renderer,
    material(glsl.quadVertex, glsl.exposeFragment, {
      picture: { value: hdr.texture },
      exposure: { value: key / lum },
      blur: { value: gaussian3(0.45 + 0.06 * phone) },
      vignette: { value: 0.12 + 0.03 * phone },
      noise: { value: spec.light.sky === 'overcast' ? 0.02 : 0.013 },
      contrast: { value: 0.18 + 0.03 * phone },
      balance: { value: new THREE.Vector3(...balance) },
      seed: { value: spec.seed % 97 },
    }),
    exposed,
  );
  lap('expose');
  const final = new THREE.WebGLRenderTarget(widthPx, heightPx, out);
  fullScreen(
    renderer,
    material(glsl.quadVertex, glsl.sharpenFragment, {
      picture: { value: exposed.texture },
      amount: { value: 0.35 + 0.08 * phone },
    }),
    final,
  );
  const pixels = new Uint8Array(widthPx * heightPx * 4);
  renderer.readRenderTargetPixels(final, 0, 0, widthPx, heightPx, pixels);
  lap('picture');
  return { pixels, seconds };
}
