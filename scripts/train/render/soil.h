// Procedural soil: height and colour of one point. Computed once per texel of the scene's soil map.
#pragma once
#include "scene.h"

struct SoilPoint {
  float h;
  V3 colour;
};

HD SoilPoint soilAt(const Soil& s, float x, float y) {
  const uint32_t seed = s.seed;
  float warp = 0.012f;
  float wx = x + warp * (fbm(x * 22, y * 22, seed + 1, 3) - 0.5f) * 2;
  float wy = y + warp * (fbm(x * 22, y * 22, seed + 2, 3) - 0.5f) * 2;

  float h = s.z0 + s.tiltX * x + s.tiltY * y;
  h += s.undulation * (fbm(x * 5, y * 5, seed + 3, 3) - 0.5f) * 2;
  float across = (y - s.rowY) / s.ridgeWidth;
  h += s.ridge * expf(-across * across);
  float broad = fbm(x * 3.1f, y * 3.1f, seed + 4, 4), fine = fbm(x * 90, y * 90, seed + 5, 4);
  float tone = clampf(0.5f + s.contrast * (broad - 0.5f) * 2 + 0.35f * (fine - 0.5f) * 2, 0, 1);
  V3 colour = mix(s.dark, s.light, tone);
  float grit = fbm(x * 140, y * 140, seed + 6, 3) - 0.5f, speck = unitOf(hash2((int)floorf(x * 430), (int)floorf(y * 430), seed + 10));
  h += s.rough * grit * 2 + s.grain * 0.0022f * (speck - 0.5f);
  colour = colour * (1 + s.grain * (0.5f * (speck - 0.5f) + 0.8f * grit));

  float ground = h;
  for (int k = 0; k < 4; k++) {
    if (s.clod[k] <= 0) continue;
    float size = s.clodSize[k];
    float cx = wx / size, cy = wy / size;
    int ix = (int)floorf(cx), iy = (int)floorf(cy);
    for (int dy = -1; dy <= 1; dy++)
      for (int dx = -1; dx <= 1; dx++) {
        uint32_t c = hash2(ix + dx, iy + dy, seed + 31u * k + 7);
        if (unitOf(hash32(c + 5)) > s.clod[k]) continue;
        float px = ix + dx + unitOf(c), py = iy + dy + unitOf(hash32(c));
        float r = 0.25f + 0.45f * unitOf(hash32(c + 9));
        float stretch = 0.7f + 0.6f * unitOf(hash32(c + 13)), turn = 6.283f * unitOf(hash32(c + 17));
        float ex = (cx - px), ey = (cy - py);
        float rx = (ex * cosf(turn) + ey * sinf(turn)) * stretch, ry = (-ex * sinf(turn) + ey * cosf(turn)) / stretch;
        float lump = 1 + 0.35f * (fbm(cx * 2.1f + 9 * dx, cy * 2.1f, c, 2) - 0.5f) * 2;
        float d2 = (rx * rx + ry * ry) / (r * r * lump * lump);
        if (d2 >= 1) continue;
        float bump = size * r * s.flat * (sqrtf(1 - d2) - s.bury) + 0.6f * s.rough * grit;
        if (ground + bump > h) {
          h = ground + bump;
          bool stone = unitOf(hash32(c + 21)) < s.stoneShare;
          float shade = 0.72f + 0.56f * unitOf(hash32(c + 23));
          colour = (stone ? s.stone : mix(s.dark, s.light, clampf(tone + 0.5f * (unitOf(hash32(c + 27)) - 0.4f), 0, 1))) * shade * (1 + 0.9f * s.grain * grit);
        }
      }
  }

  for (int level = 0; level < 2; level++) {
    float width = level ? s.crackWidth2 : s.crackWidth, size = level ? s.crackSize2 : s.crackSize;
    if (width <= 0) continue;
    Worley w = worley(wx / size, wy / size, seed + 77u + level);
    float local = width * (0.4f + 1.2f * fbm(x * 11, y * 11, seed + 79u + level, 2));
    float edge = (w.f2 - w.f1) * size * 0.5f;
    float open = 1 - smooth(0.3f * local, local, edge);
    h -= s.crackDepth * (level ? 0.5f : 1.0f) * open;
    h += s.plateCurl * expf(-edge / (0.12f * size)) * (1 - open);
    colour = colour * (0.9f + 0.2f * unitOf(hash32(w.cell))) * (1 - 0.6f * open);
  }

  float crust = smooth(0.55f, 0.7f, fbm(x * 9, y * 9, seed + 8, 4)) * s.crust;
  colour = mix(colour, s.light * 1.25f, crust);
  float wetness = s.wet * smooth(0.42f, 0.6f, fbm(x * 4 + 40, y * 4, seed + 9, 4) - 3.0f * (h - s.z0));
  colour = mix(colour, colour * s.wetTint, wetness);
  SoilPoint out{h, v3(clampf(colour.x, 0.01f, 0.95f), clampf(colour.y, 0.01f, 0.95f), clampf(colour.z, 0.01f, 0.95f))};
  return out;
}
