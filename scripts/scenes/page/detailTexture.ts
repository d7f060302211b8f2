import * as THREE from 'three';
import { hash2 } from '../noise.ts';

/** Value noise that repeats after `period` lattice steps. */
function tiled(x: number, y: number, period: number, seed: number): number {
  const ix = Math.floor(x);
  const iy = Math.floor(y);
  const s = (t: number): number => t * t * (3 - 2 * t);
  const u = s(x - ix);
  const v = s(y - iy);
  const at = (i: number, j: number): number => hash2((ix + i) % period, (iy + j) % period, seed);
  const a = at(0, 0);
  const b = at(1, 0);
  const c = at(0, 1);
  return a + (b - a) * u + (c - a) * v + (a - b - c + at(1, 1)) * u * v;
}

/** A repeating patch of fine soil: slope in red and green (0.5 flat), reflectance variation in blue. */
export function detailTexture(anisotropy: number): THREE.DataTexture {
  const n = 512;
  const height = new Float32Array(n * n);
  const tint = new Float32Array(n * n);
  for (let y = 0; y < n; y++) {
    for (let x = 0; x < n; x++) {
      let h = 0;
      let t = 0;
      for (const [period, weight] of [
        [16, 0.3],
        [40, 0.5],
        [96, 0.8],
        [192, 1],
        [256, 0.9],
      ] as const) {
        const k = period / n;
        h += weight * tiled(x * k, y * k, period, period);
        t += weight * tiled(x * k, y * k, period, period + 500);
      }
      height[y * n + x] = h / 3.5;
      tint[y * n + x] = 0.55 * (h / 3.5) + 0.45 * (t / 3.5);
    }
  }
  const data = new Uint8Array(n * n * 4);
  const byte = (v: number): number => Math.max(0, Math.min(255, Math.round(v * 255)));
  for (let y = 0; y < n; y++) {
    for (let x = 0; x < n; x++) {
      const i = y * n + x;
      const dx = height[y * n + ((x + 1) % n)]! - height[y * n + ((x + n - 1) % n)]!;
      const dy = height[((y + 1) % n) * n + x]! - height[((y + n - 1) % n) * n + x]!;
      data.set([byte(0.5 - dx * 1.7), byte(0.5 - dy * 1.7), byte(0.5 + (tint[i]! - 0.5) * 2.6), 255], i * 4);
    }
  }
  const texture = new THREE.DataTexture(data, n, n, THREE.RGBAFormat, THREE.UnsignedByteType);
  texture.wrapS = texture.wrapT = THREE.RepeatWrapping;
  texture.minFilter = THREE.LinearMipmapLinearFilter;
  texture.magFilter = THREE.LinearFilter;
  texture.generateMipmaps = true;
  texture.anisotropy = anisotropy;
  texture.needsUpdate = true;
  return texture;
}
