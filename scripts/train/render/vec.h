// Small vectors, random numbers and noise shared by host and device code.
#pragma once
#include <cmath>
#include <cstdint>
#ifdef __CUDACC__
#define HD __host__ __device__ inline
#else
#define HD inline
#endif

struct V3 {
  float x, y, z;
};
HD V3 v3(float x, float y, float z) { return V3{x, y, z}; }
HD V3 operator+(V3 a, V3 b) { return v3(a.x + b.x, a.y + b.y, a.z + b.z); }
HD V3 operator-(V3 a, V3 b) { return v3(a.x - b.x, a.y - b.y, a.z - b.z); }
HD V3 operator*(V3 a, V3 b) { return v3(a.x * b.x, a.y * b.y, a.z * b.z); }
HD V3 operator*(V3 a, float s) { return v3(a.x * s, a.y * s, a.z * s); }
HD float dot(V3 a, V3 b) { return a.x * b.x + a.y * b.y + a.z * b.z; }
HD V3 cross(V3 a, V3 b) { return v3(a.y * b.z - a.z * b.y, a.z * b.x - a.x * b.z, a.x * b.y - a.y * b.x); }
HD V3 unit(V3 a) {
  float n = sqrtf(dot(a, a));
  return n > 1e-12f ? a * (1.0f / n) : v3(0, 0, 1);
}
HD V3 mix(V3 a, V3 b, float t) { return a * (1 - t) + b * t; }
HD float mixf(float a, float b, float t) { return a + (b - a) * t; }
HD float clampf(float x, float lo, float hi) { return x < lo ? lo : (x > hi ? hi : x); }
HD float smooth(float lo, float hi, float x) {
  float t = clampf((x - lo) / (hi - lo), 0, 1);
  return t * t * (3 - 2 * t);
}

HD uint32_t hash32(uint32_t x) {
  x ^= x >> 16;
  x *= 0x7feb352dU;
  x ^= x >> 15;
  x *= 0x846ca68bU;
  x ^= x >> 16;
  return x;
}
HD uint32_t hash2(int x, int y, uint32_t s) { return hash32((uint32_t)x * 0x9E3779B1U ^ hash32((uint32_t)y * 0x85EBCA77U ^ s)); }
HD float unitOf(uint32_t h) { return (float)(h >> 8) * (1.0f / 16777216.0f); }

struct Rng {
  uint32_t s;
  HD uint32_t next() {
    s = s * 747796405U + 2891336453U;
    uint32_t w = ((s >> ((s >> 28) + 4)) ^ s) * 277803737U;
    return (w >> 22) ^ w;
  }
  HD float u() { return unitOf(next()); }
  HD float in(float lo, float hi) { return lo + (hi - lo) * u(); }
  /** Log-uniform: even on a ratio scale. */
  HD float ratio(float lo, float hi) { return lo * expf(u() * logf(hi / lo)); }
  HD bool chance(float p) { return u() < p; }
  HD int below(int n) { return (int)(u() * n) % (n > 0 ? n : 1); }
  HD float normal() {
    float a = u(), b = u();
    return sqrtf(-2.0f * logf(a + 1e-7f)) * cosf(6.2831853f * b);
  }
};

HD float valueNoise(float x, float y, uint32_t seed) {
  float fx = floorf(x), fy = floorf(y);
  int ix = (int)fx, iy = (int)fy;
  float tx = x - fx, ty = y - fy;
  tx = tx * tx * (3 - 2 * tx);
  ty = ty * ty * (3 - 2 * ty);
  float a = unitOf(hash2(ix, iy, seed)), b = unitOf(hash2(ix + 1, iy, seed));
  float c = unitOf(hash2(ix, iy + 1, seed)), d = unitOf(hash2(ix + 1, iy + 1, seed));
  return mixf(mixf(a, b, tx), mixf(c, d, tx), ty);
}

/** Fractal noise, about 0 to 1, mean 0.5. */
HD float fbm(float x, float y, uint32_t seed, int octaves) {
  float sum = 0, amp = 0.5f, norm = 0;
  for (int k = 0; k < octaves; k++) {
    sum += amp * valueNoise(x, y, seed + 101u * k);
    norm += amp;
    amp *= 0.55f;
    x = x * 2.03f + 17.3f;
    y = y * 2.03f + 5.7f;
  }
  return sum / norm;
}

struct Worley {
  float f1, f2;   // distances to the nearest two feature points, in cells
  uint32_t cell;  // hash of the nearest point's cell
};
HD Worley worley(float x, float y, uint32_t seed) {
  int ix = (int)floorf(x), iy = (int)floorf(y);
  Worley w{1e9f, 1e9f, 0};
  for (int dy = -1; dy <= 1; dy++)
    for (int dx = -1; dx <= 1; dx++) {
      uint32_t h = hash2(ix + dx, iy + dy, seed);
      float px = ix + dx + unitOf(h), py = iy + dy + unitOf(hash32(h));
      float d = sqrtf((px - x) * (px - x) + (py - y) * (py - y));
      if (d < w.f1) {
        w.f2 = w.f1;
        w.f1 = d;
        w.cell = h;
      } else if (d < w.f2)
        w.f2 = d;
    }
  return w;
}
