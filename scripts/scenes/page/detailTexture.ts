import * as THREE from 'three';
import { hash2 } from '../noise.ts';

/** White noise smoothed by three wrapping box blurs, brought to mean 0 and standard deviation 1: grains with no grid. */
function grains(n: number, radius: number, seed: number): Float32Array {
  let from = Float32Array.from({ length: n * n }, (_, i) => hash2(i % n, Math.floor(i / n), seed) - 0.5);
  let to = new Float32Array(n * n);
  for (let pass = 0; pass < 6; pass++) {
    const [stride, lines] = pass % 2 === 0 ? [1, n] : [n, 1];
    for (let line = 0; line < n; line++) {
      const at = (k: number): number => line * lines + ((k + n) % n) * stride;
      let sum = 0;
      for (let k = -radius; k <= radius; k++) sum += from[at(k)]!;
      for (let k = 0; k < n; k++) {
        to[at(k)] = sum;
        sum += from[at(k + radius + 1)]! - from[at(k - radius)]!;
      }
    }
    [from, to] = [to, from];
  }
  const deviation = Math.sqrt(from.reduce((s, v) => s + v * v, 0) / (n * n));
  return from.map((v) => v / deviation);
}

/** A repeating patch of fine soil: slope in red and green (0.5 flat), reflectance variation in blue. */
export function detailTexture(anisotropy: number): THREE.DataTexture {
  const n = 512;
  const layers = [
    [1, 0.5],
    [2, 0.85],
    [5, 1],
    [13, 0.9],
  ] as const;
  const height = new Float32Array(n * n);
  const tint = new Float32Array(n * n);
  layers.forEach(([radius, weight], k) => {
    const bump = grains(n, radius, 11 + k);
    const stain = grains(n, radius, 51 + k);
    for (let i = 0; i < n * n; i++) {
      height[i] = height[i]! + weight * radius * 0.5 * bump[i]!;
      tint[i] = tint[i]! + weight * (0.6 * bump[i]! + 0.4 * stain[i]!);
    }
  });
  const data = new Uint8Array(n * n * 4);
  const byte = (v: number): number => Math.max(0, Math.min(255, Math.round(v * 255)));
  for (let y = 0; y < n; y++) {
    for (let x = 0; x < n; x++) {
      const i = y * n + x;
      const dx = height[y * n + ((x + 1) % n)]! - height[y * n + ((x + n - 1) % n)]!;
      const dy = height[((y + 1) % n) * n + x]! - height[((y + n - 1) % n) * n + x]!;
      data.set([byte(0.5 - dx * 0.16), byte(0.5 - dy * 0.16), byte(0.5 + tint[i]! * 0.11), 255], i * 4);
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
