// Host-side random scenes: soil, light, camera, plants, litter and things people leave in the picture.
#pragma once
#include <algorithm>
#include "plants.h"
#include "soil.h"

struct Scene {
  Mesh mesh;
  View view;
  std::vector<PlantTruth> plants;
  std::vector<int> cellStart, items;
  std::vector<float> cellTop;
  float meta[8];  // foot of the camera x, y in strip px; height m; view kind; scene kind; seed; ground px per metre; hardness
};

enum SceneKind { ROW = 0, SCATTER = 1, EMPTY = 2, DENSE = 3 };
enum ViewKind { DOWN = 0, SIDE = 1, ALONG = 2 };

inline Soil drawSoil(Rng& r, float height) {
  Soil s{};
  s.seed = r.next();
  // earth colours from pale sand through red-brown to black, as reflectances
  const V3 earth[8] = {{0.45f, 0.36f, 0.25f}, {0.33f, 0.22f, 0.14f}, {0.30f, 0.16f, 0.09f}, {0.20f, 0.15f, 0.11f}, {0.22f, 0.20f, 0.18f}, {0.12f, 0.10f, 0.085f}, {0.40f, 0.38f, 0.35f}, {0.28f, 0.19f, 0.16f}};
  V3 c = mix(earth[r.below(8)], earth[r.below(8)], r.u()) * r.ratio(0.7f, 1.35f);
  if (r.chance(0.03f)) c = mix(c, v3(0.15f, 0.2f, 0.09f), r.in(0.1f, 0.4f));  // algae, moss
  s.light = c * r.in(1.05f, 1.5f);
  s.dark = c * r.in(0.4f, 0.85f);
  s.contrast = r.in(0.3f, 1.2f);
  s.stone = mix(v3(0.34f, 0.33f, 0.31f), c, r.in(0.2f, 0.95f)) * r.ratio(0.5f, 1.4f);
  s.stoneShare = r.chance(0.3f) ? r.in(0, 0.5f) : 0.02f;
  s.grain = r.in(0, 1);
  s.wetTint = v3(0.45f, 0.43f, 0.40f);
  s.undulation = r.in(0.001f, 0.012f);
  s.ridge = r.chance(0.4f) ? r.in(-0.025f, 0.025f) : 0;
  s.ridgeWidth = r.in(0.04f, 0.14f);
  s.rowY = height * r.in(0.35f, 0.65f);
  float sizes[4] = {r.in(0.05f, 0.12f), r.in(0.022f, 0.05f), r.in(0.010f, 0.022f), r.in(0.005f, 0.010f)};
  int texture = r.below(4);  // smooth crust, scattered clods, crumbly all over, gravel-like
  for (int k = 0; k < 4; k++) {
    s.clodSize[k] = sizes[k];
    float share = texture == 0 ? r.in(0, 0.08f) : (texture == 1 ? r.in(0, 0.35f) : (texture == 2 ? r.in(0.3f, 0.95f) : (k >= 2 ? r.in(0.5f, 1) : r.in(0, 0.3f))));
    s.clod[k] = (k == 0 ? 0.4f : 1) * share;
  }
  s.bury = r.in(0.0f, 0.5f);
  s.flat = r.in(0.4f, 0.9f);
  s.rough = r.ratio(0.0006f, 0.005f);
  if (r.chance(texture == 0 ? 0.7f : 0.2f)) {
    s.crackWidth = r.ratio(0.001f, 0.008f);
    s.crackSize = r.in(0.04f, 0.16f);
    s.crackWidth2 = r.chance(0.6f) ? s.crackWidth * 0.4f : 0;
    s.crackSize2 = s.crackSize * r.in(0.25f, 0.5f);
    s.crackDepth = r.in(0.004f, 0.018f);
    s.plateCurl = r.in(0, 0.006f);
  }
  s.wet = r.chance(0.25f) ? r.in(0.2f, 1) : 0;
  s.crust = r.chance(0.3f) ? r.in(0, 0.8f) : 0;
  s.gloss = s.wet * r.in(0, 0.4f);
  s.z0 = 0.006f * r.normal();
  s.tiltX = 0.006f * r.normal();
  s.tiltY = 0.012f * r.normal();
  return s;
}

inline Light drawLight(Rng& r) {
  Light l;
  float elevation = r.chance(0.2f) ? r.in(0.2f, 0.45f) : r.in(0.45f, 1.45f), azimuth = r.in(0, 6.283f);
  l.sunDir = v3(cosf(azimuth) * cosf(elevation), sinf(azimuth) * cosf(elevation), sinf(elevation));
  bool overcast = r.chance(0.35f);
  float warm = clampf((0.7f - elevation) * 1.2f, 0, 0.8f);
  float power = overcast ? r.in(0, 0.8f) : r.in(2.0f, 4.5f);
  l.sun = v3(1, mixf(0.95f, 0.75f, warm), mixf(0.88f, 0.45f, warm)) * power;
  float sky = overcast ? r.in(0.6f, 1.2f) : r.ratio(0.25f, 0.9f);
  l.sky = mix(v3(0.85f, 0.95f, 1.1f), v3(0.6f, 0.85f, 1.3f), overcast ? r.in(0, 0.3f) : r.u()) * sky;
  l.horizon = l.sky * r.in(0.5f, 1.1f);
  l.sunRadius = overcast ? r.in(0.1f, 0.5f) : (r.chance(0.3f) ? r.in(0.02f, 0.1f) : 0.006f);
  return l;
}

inline Material matte(V3 c, Rng& r, float mottle) {
  Material m{};
  m.front = m.back = c;
  m.vein = c * 0.5f;
  m.type = MAT_MATTE;
  m.mottle = mottle;
  m.gloss = r.in(0, 0.2f);
  m.seed = r.next();
  return m;
}

inline void addLitter(Scene& sc, Rng& r, float W, float H) {
  const float pad = 0.08f;
  int straws = r.chance(0.55f) ? (int)r.ratio(1, 40) : (r.chance(0.1f) ? (int)r.in(80, 260) : 0);
  V3 strawBase = mix(v3(0.55f, 0.45f, 0.27f), v3(0.25f, 0.2f, 0.16f), r.u());
  for (int i = 0; i < straws; i++) {
    float L = r.ratio(0.012f, 0.16f), az = r.in(0, 6.283f), w = r.ratio(0.001f, 0.006f), bow = r.normal() * 0.6f;
    V3 p = v3(r.in(-pad, W + pad), r.in(-pad, H + pad), sc.view.soil.z0 + r.in(0.002f, 0.014f));
    std::vector<V3> line;
    for (int k = 0; k <= 4; k++) {
      line.push_back(p);
      float a = az + bow * k / 4;
      p = p + v3(cosf(a), sinf(a), r.in(-0.12f, 0.12f)) * (L / 4);
    }
    addRibbon(sc.mesh, line, w, w * r.in(0.3f, 1), v3(0.2f * r.normal(), 0.2f * r.normal(), 1), -0.5f, sc.mesh.add(matte(strawBase * r.ratio(0.5f, 1.7f), r, 0.3f)), 0);
  }
  int dead = r.chance(0.3f) ? (int)r.ratio(1, 9) : 0;
  for (int i = 0; i < dead; i++) {
    LeafShape s{r.in(0.012f, 0.06f), 0, r.in(0.3f, 0.6f), r.in(0.6f, 1.2f), 0, 0, r.in(-0.5f, 0.8f), r.in(-0.6f, 1.2f), r.in(0, 0.8f), 0.4f * r.normal(), 0};
    s.width = s.length * r.in(0.25f, 0.8f);
    float az = r.in(0, 6.283f);
    V3 c = r.chance(0.75f) ? mix(v3(0.35f, 0.2f, 0.09f), v3(0.5f, 0.42f, 0.25f), r.u()) : mix(v3(0.4f, 0.36f, 0.1f), v3(0.3f, 0.08f, 0.05f), r.u());
    Frame f = frameOf(v3(cosf(az), sinf(az), 0.1f * r.normal()), v3(0.2f * r.normal(), 0.2f * r.normal(), 1));
    addLeaf(sc.mesh, v3(r.in(0, W), r.in(0, H), sc.view.soil.z0 + 0.008f), f, s, sc.mesh.add(matte(c, r, 0.5f)), 0, r.next());
  }
}

inline void addThings(Scene& sc, Rng& r, float W, float H) {
  auto paint = [&]() {
    const V3 paints[9] = {{0.75f, 0.6f, 0.05f}, {0.75f, 0.75f, 0.72f}, {0.6f, 0.08f, 0.05f}, {0.05f, 0.05f, 0.05f}, {0.5f, 0.36f, 0.2f}, {0.08f, 0.15f, 0.5f}, {0.7f, 0.25f, 0.05f}, {0.45f, 0.46f, 0.48f}, {0.1f, 0.4f, 0.12f}};
    return paints[r.below(9)] * r.in(0.6f, 1.15f);
  };
  if (r.chance(0.45f)) {  // a tape or rod beside the row, or a drip line
    float y = r.chance(0.5f) ? r.in(0.0f, 0.28f) * H : r.in(0.72f, 1.0f) * H, slope = 0.015f * r.normal(), z = sc.view.soil.z0 + r.in(0.008f, 0.02f);
    V3 c = paint();
    std::vector<V3> line;
    float x0 = r.chance(0.15f) ? r.in(0, W) : -0.2f, x1 = r.chance(0.15f) ? r.in(0.3f * W, W) : W + 0.2f;
    for (int k = 0; k <= 12; k++) {
      float x = mixf(x0, x1, k / 12.0f);
      line.push_back(v3(x, y + slope * (x - W / 2) + 0.0012f * r.normal(), z + 0.001f * r.normal()));
    }
    Material m = matte(c, r, 0.1f);
    m.gloss = r.in(0, 0.6f);
    if (r.chance(0.65f)) {
      m.type = MAT_TAPE;
      m.veinScale = fabsf(x1 - x0) * (r.chance(0.5f) ? 100 : 39.37f);
      m.vein = dot(c, v3(0.3f, 0.6f, 0.1f)) > 0.25f ? v3(0.04f, 0.04f, 0.04f) : v3(0.7f, 0.7f, 0.7f);
      addRibbon(sc.mesh, line, r.in(0.012f, 0.03f), 0.0f + r.in(0.012f, 0.03f), v3(0.1f * r.normal(), 0.2f * r.normal(), 1), 0, sc.mesh.add(m), 0);
    } else {
      float rad = r.in(0.003f, 0.016f);
      addTube(sc.mesh, line, rad, rad, 8, sc.mesh.add(m), 0);
    }
  }
  if (r.chance(0.06f)) {  // marker card
    float x = r.in(0, W), y = r.in(0, H), s = r.in(0.03f, 0.1f), az = r.in(0, 3.14f);
    for (int pass = 0; pass < 2; pass++) {
      V3 c = pass ? v3(0.03f, 0.03f, 0.03f) : v3(0.8f, 0.8f, 0.78f);
      float k = pass ? 0.7f : 1;
      V3 d = v3(cosf(az), sinf(az), 0) * (s * k), p = v3(x, y, sc.view.soil.z0 + 0.012f + 0.001f * pass);
      addRibbon(sc.mesh, {p - d, p + d}, 2 * s * k, 2 * s * k, v3(0, 0, 1), 0, sc.mesh.add(matte(c, r, 0.1f)), 0);
    }
  }
  if (r.chance(0.07f)) {  // hand, boot, tool: a group of lumps
    V3 c = r.chance(0.5f) ? mix(v3(0.5f, 0.33f, 0.25f), v3(0.16f, 0.09f, 0.06f), r.u()) : paint();
    float x = r.in(0, W), y = r.in(0, H), az = r.in(0, 6.283f), z = sc.view.soil.z0 + 0.03f;
    int n = 1 + r.below(6), m = sc.mesh.add(matte(c, r, 0.2f));
    for (int i = 0; i < n; i++) {
      float a = az + 0.4f * (i - n / 2.0f);
      Frame f = frameOf(v3(cosf(a), sinf(a), 0.15f * r.normal()), v3(0, 0, 1));
      V3 radii = i == 0 ? v3(r.in(0.04f, 0.14f), r.in(0.03f, 0.05f), 0.025f) : v3(r.in(0.03f, 0.05f), 0.009f, 0.009f);
      addLump(sc.mesh, v3(x, y, z) + f.along * (i ? 0.09f : 0), f, radii, m);
    }
  }
}

inline void drawCamera(Scene& sc, Rng& r, float W, float H, int forced) {
  float pick = r.u();
  int kind = forced >= 0 ? forced : (pick < 0.42f ? DOWN : (pick < 0.75f ? SIDE : ALONG));
  Camera c;
  if (kind == DOWN) {
    c = Camera{W / 2 + r.in(-1.3f, 1.3f), H / 2 + 0.22f * r.normal(), r.in(1.0f, 2.3f)};
    if (r.chance(0.3f)) c.x = W / 2 + 0.3f * r.normal();
    if (r.chance(0.1f)) c.z = r.in(0.45f, 1.0f);
  } else if (kind == SIDE)
    c = Camera{W / 2 + r.in(-1.5f, 1.5f), H / 2 + (r.chance(0.85f) ? 1 : -1) * r.in(0.8f, 2.6f), r.in(1.1f, 1.9f)};
  else
    c = Camera{W / 2 + (r.chance(0.5f) ? 1 : -1) * r.in(1.2f, 3.2f), H / 2 + 0.3f * r.normal(), r.in(1.0f, 1.9f)};
  sc.view.camera = c;
  sc.meta[3] = (float)kind;
}

inline void addPlant(Scene& sc, Rng& r, const Species& s, float x, float y, int kind, float stage, float size, float damage) {
  if ((int)sc.plants.size() >= MAX_PLANTS) return;
  int id = (int)sc.plants.size() + 1;
  PlantBuild b{sc.mesh, r, s, id, damage, size * s.scale};
  SoilPoint ground = soilAt(sc.view.soil, x, y);
  V3 base = v3(x, y, ground.h), crown;
  if (kind == 3) crown = buildGrass(b, base, size * r.in(0.03f, 0.2f), 2 + r.below(8));
  else if (kind == 2 && r.chance(0.4f)) crown = buildRosette(b, base, 3 + r.below(9));
  else crown = buildDicot(b, base, stage, r.chance(0.15f) ? 1.57f * r.below(4) : r.in(0, 6.283f));
  const Camera& c = sc.view.camera;
  float k = crown.z / (c.z - crown.z), px = 1 / sc.view.metresPerPx;
  PlantTruth t{};
  t.crownX = (crown.x + (crown.x - c.x) * k - sc.view.x0) * px;
  t.crownY = (crown.y + (crown.y - c.y) * k - sc.view.y0) * px;
  t.baseX = (x - sc.view.x0) * px;
  t.baseY = (y - sc.view.y0) * px;
  t.kind = (float)kind;
  t.stage = stage;
  t.heightM = b.top - base.z;
  t.spanM = b.reach;
  t.crownZ = crown.z;
  sc.plants.push_back(t);
}

/** Beans of usual size and colour. */
inline Species drawBean(Rng& r) {
  for (int i = 0; i < 500; i++) {
    Species s = drawCrop(r);
    bool green = s.leafColour.y > 1.35f * s.leafColour.x && s.leafColour.y > 0.1f && s.leafColour.y < 0.3f;
    if (s.cotThick > 0 && s.scale > 0.8f && s.scale < 1.3f && green) return s;
  }
  return drawCrop(r);
}

inline void addCrop(Scene& sc, Rng& r, float W, float H, int kind, float stageMean, bool plain) {
  Species s = plain || r.chance(0.65f) ? drawBean(r) : drawCrop(r);
  if (s.cotCordate > 0.02f && r.chance(0.5f)) stageMean = r.in(0.85f, 1.25f);  // stands of nothing but round cotyledons
  float spread = r.in(0.1f, 0.5f), sizeSpread = r.in(0.05f, 0.25f), damage = r.chance(0.25f) ? r.in(0.05f, 0.5f) : 0.02f;
  auto place = [&](float x, float y) {
    float stage = clampf(stageMean + spread * r.normal(), 0.05f, 4.2f);
    if (plain) stage = clampf(stage, 1.0f, 3.1f);
    else if (r.chance(0.06f)) stage = clampf(stage - r.in(0.5f, 2), 0.05f, 4.2f);  // late emergers
    addPlant(sc, r, s, x, y, 1, stage, expf(sizeSpread * r.normal()), damage);
  };
  const float pad = 0.16f;
  if (kind == ROW || kind == DENSE) {
    float spacing = kind == DENSE ? r.in(0.022f, 0.05f) : (plain ? r.in(0.06f, 0.13f) : r.ratio(0.04f, 0.16f)), slope = 0.03f * r.normal(), wander = r.in(0.002f, 0.014f);
    float cv = r.in(0.1f, 0.5f), doubles = plain ? 0.03f : (r.chance(0.7f) ? r.in(0.02f, 0.32f) : 0), misses = r.in(0, 0.35f), gapAt = r.in(0, W), gap = r.chance(0.3f) ? r.in(0.2f, 0.6f) : 0;
    bool upright = !plain && r.chance(0.12f);  // a row up the strip, as in photos without a reference
    float length = upright ? H : W, first = upright ? r.in(0.1f, 0.9f) * W : sc.view.soil.rowY;
    float rows[2] = {first, first + (r.chance(0.5f) ? 1 : -1) * r.in(0.09f, 0.25f)};
    int n = !plain && r.chance(0.1f) ? 2 : 1;
    for (int k = 0; k < n; k++)
      for (float x = -pad + r.u() * spacing; x < length + pad; x += spacing * fmaxf(0.15f, 1 + cv * r.normal())) {
        if (r.chance(misses) || fabsf(x - gapAt) < gap / 2) continue;
        float y = rows[k] + slope * (x - length / 2) + wander * r.normal();
        auto put = [&](float dx, float dy) { upright ? place(y + dy, x + dx) : place(x + dx, y + dy); };
        put(0, 0);
        while (r.chance(doubles)) {
          float a = r.in(0, 6.283f), d = r.in(0.006f, 0.03f);
          put(d * cosf(a), d * sinf(a) * 0.6f);
        }
      }
  } else {
    int n = (int)r.ratio(2, 45);
    float clump = r.in(0, 0.6f), lastX = W / 2, lastY = H / 2;
    for (int i = 0; i < n; i++) {
      if (i && r.chance(clump)) {
        float a = r.in(0, 6.283f), d = r.in(0.01f, 0.06f);
        lastX += d * cosf(a);
        lastY += d * sinf(a);
      } else {
        lastX = r.in(-pad, W + pad);
        lastY = r.in(-0.1f, H + 0.1f);
      }
      place(lastX, lastY);
    }
  }
}

inline void addWeeds(Scene& sc, Rng& r, float W, float H, bool empty) {
  if (!r.chance(empty ? 0.8f : 0.5f)) return;
  int n = r.chance(empty ? 0.5f : 0.15f) ? (int)r.in(15, 70) : (int)r.ratio(1, 14);
  int kinds = 1 + r.below(3);
  float grass = r.chance(0.3f) ? r.in(0.5f, 1) : r.in(0, 0.4f);
  if (empty && r.chance(0.2f)) grass = 1, n = (int)r.in(60, MAX_PLANTS);  // a lawn
  std::vector<Species> species;
  for (int k = 0; k < kinds; k++) species.push_back(drawWeed(r));
  float size = r.ratio(0.4f, 1.5f);
  for (int i = 0; i < n; i++) {
    const Species& s = species[r.below(kinds)];
    addPlant(sc, r, s, r.in(-0.1f, W + 0.1f), r.in(-0.1f, H + 0.1f), r.chance(grass) ? 3 : 2, r.in(0.7f, 3.5f), size * expf(0.35f * r.normal()), r.chance(0.2f) ? 0.3f : 0);
  }
}
