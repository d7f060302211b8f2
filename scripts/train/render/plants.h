// Host-side plants: a species is a point in a wide space of seedling architectures; a plant is one draw from it.
#pragma once
#include "mesh.h"

struct Species {
  float scale;
  // cotyledons
  float cotyledonKept, cotLength, cotRatio, cotWidest, cotBlunt, cotCordate, cotPetiole, cotThick;
  // first true leaves (a pair), then further leaves: leaflets 1 or 3
  float leafLength, leafRatio, leafWidest, leafBlunt, leafCordate, petiole, laterSize, laterPetiole;
  int leaflets, opposite;
  float stemHeight, internode, stemRadius, lean, leafPitch, droop, fold, wave, serration, teeth;
  V3 leafColour, stemColour, cotColour;
  float colourSpread, gloss, veinAmount, veinScale, hairiness;
};

inline V3 leafGreen(Rng& r, float wild) {
  // reflectance; greens from yellow-green to blue-green, some reddish or greyed
  float bright = r.ratio(0.08f, 0.36f);
  float red = r.in(0.35f, 0.75f), blue = r.in(0.15f, 0.6f);
  V3 c = v3(bright * red, bright, bright * blue);
  if (r.chance(0.15f * wild)) c = mix(c, v3(0.25f, 0.12f, 0.10f), r.in(0.1f, 0.6f));
  float grey = r.chance(0.3f) ? r.in(0, 0.45f) : 0;
  float l = 0.3f * c.x + 0.6f * c.y + 0.1f * c.z;
  return mix(c, v3(l, l, l), grey);
}

inline Species drawCrop(Rng& r) {
  Species s;
  int family = r.chance(0.55f) ? 0 : 1 + r.below(2);  // 0 bean; 1 round cotyledons (cotton-like); 2 narrow pairs (sesame-like)
  s.scale = r.chance(0.6f) ? r.ratio(0.8f, 1.2f) : r.ratio(0.65f, family == 0 ? 1.3f : 1.55f);
  s.cotyledonKept = family == 0 ? r.in(0.2f, 1) : 0.97f;
  s.cotLength = family == 0 ? r.in(0.012f, 0.022f) : (family == 1 ? r.in(0.018f, 0.038f) : r.in(0.008f, 0.02f));
  s.cotRatio = family == 0 ? r.in(0.4f, 0.65f) : (family == 1 ? r.in(0.8f, 1.6f) : r.in(0.45f, 0.95f));
  s.cotWidest = r.in(0.42f, 0.62f);
  s.cotBlunt = family == 1 ? r.in(0.4f, 0.6f) : r.in(0.45f, 0.8f);
  s.cotCordate = family == 1 ? r.in(0.03f, 0.35f) : 0;
  s.cotPetiole = family == 0 ? r.in(0.0f, 0.003f) : r.in(0.002f, 0.014f);
  s.cotThick = family == 0 ? 1 : 0;
  s.leafLength = family == 0 ? r.in(0.038f, 0.075f) : (family == 2 ? r.in(0.02f, 0.05f) : r.in(0.03f, 0.06f));
  s.leafRatio = family == 0 ? r.in(0.62f, 1.0f) : (family == 2 ? r.in(0.3f, 0.65f) : r.in(0.55f, 1.0f));
  s.leafWidest = r.in(0.3f, 0.5f);
  s.leafBlunt = r.in(0.7f, 1.1f);
  s.leafCordate = family == 0 ? r.in(0.06f, 0.25f) : r.in(0, 0.12f);
  s.petiole = s.leafLength * (family == 0 ? r.in(0.15f, 0.6f) : r.in(0.06f, 0.45f));
  s.leaflets = family == 0 ? 3 : (r.chance(0.25f) ? 3 : 1);
  s.laterSize = r.in(0.7f, 1.1f);
  s.laterPetiole = family == 0 ? r.in(0.8f, 2.2f) : 1.4f;
  s.opposite = family == 0 ? 0 : r.chance(0.6f);
  s.stemHeight = family == 0 ? r.in(0.025f, 0.125f) : r.in(0.006f, 0.045f);
  s.internode = family == 0 ? r.in(0.008f, 0.06f) : r.in(0.006f, 0.04f);
  s.stemRadius = r.in(0.0010f, 0.0023f);
  s.lean = r.in(0.02f, 0.26f);
  s.leafPitch = r.in(-0.45f, 0.6f);
  s.droop = r.in(0.05f, 0.9f);
  s.fold = r.in(-0.08f, 0.45f);
  s.wave = r.in(0, 0.5f);
  s.serration = family == 2 && r.chance(0.5f) ? r.in(0.04f, 0.2f) : (r.chance(0.15f) ? r.in(0.03f, 0.2f) : 0);
  s.teeth = r.in(5, 12);
  s.leafColour = leafGreen(r, 0.3f);
  s.cotColour = r.chance(0.45f) ? mix(s.leafColour, v3(0.34f, 0.33f, 0.10f), r.in(0.1f, 0.8f)) : mix(s.leafColour, leafGreen(r, 0.3f), 0.5f);
  s.stemColour = mix(mix(s.leafColour, v3(0.30f, 0.34f, 0.14f), r.in(0.3f, 1)), v3(0.28f, 0.10f, 0.10f), r.chance(0.4f) ? r.in(0, 0.8f) : 0);
  s.colourSpread = r.in(0.05f, 0.25f);
  s.gloss = r.in(0, 0.5f);
  s.veinAmount = r.in(0, 0.6f);
  s.veinScale = r.in(4, 9);
  s.hairiness = r.in(0, 0.3f);
  return s;
}

/** Broadleaf weeds, told from a crop by what people tell them by: small, or narrow, or toothed and lobed, or a rosette. */
inline Species drawWeed(Rng& r) {
  Species s = drawCrop(r);
  s.leaflets = 1;
  s.opposite = r.chance(0.3f);
  s.cotThick = 0;
  s.cotRatio = r.chance(0.5f) ? r.in(0.12f, 0.35f) : r.in(0.4f, 0.9f);
  s.cotCordate = 0;
  s.cotPetiole = r.in(0.002f, 0.01f);
  s.stemHeight = r.in(0.002f, 0.02f);
  s.internode = r.in(0.001f, 0.012f);
  int look = r.below(3);  // 0 tiny and smooth, 1 narrow leaves, 2 toothed or lobed
  s.scale = look == 0 ? r.ratio(0.25f, 0.55f) : r.ratio(0.35f, 1.1f);
  s.cotLength = r.in(0.005f, 0.014f);
  s.leafLength = look == 0 ? r.in(0.012f, 0.035f) : r.in(0.02f, 0.065f);
  s.leafRatio = look == 1 ? r.in(0.08f, 0.3f) : r.in(0.4f, 0.9f);
  s.serration = look == 2 ? r.in(0.3f, 0.8f) : (r.chance(0.3f) ? r.in(0.1f, 0.4f) : 0);
  s.leafCordate = 0;
  s.teeth = r.in(2, 9);
  s.petiole = s.leafLength * r.in(0.05f, 0.6f);
  s.leafColour = leafGreen(r, 1);
  s.cotColour = s.leafColour;
  return s;
}

inline Material leafMaterial(const Species& s, V3 colour, Rng& r, float damage) {
  Material m;
  float k = expf(s.colourSpread * r.normal());
  V3 c = v3(colour.x * k * r.in(0.9f, 1.1f), colour.y * k, colour.z * k * r.in(0.85f, 1.15f));
  float dust = r.chance(0.25f) ? r.in(0, 0.45f) : 0;
  c = mix(c, v3(0.30f, 0.25f, 0.19f), dust);
  float yellow = r.chance(0.08f) ? r.in(0.1f, 0.8f) : 0;
  c = mix(c, v3(0.42f, 0.38f, 0.09f), yellow);
  m.front = c;
  m.back = mix(c, v3(0.25f, 0.28f, 0.22f), 0.4f);
  m.through = v3(c.x * 0.9f, c.y * 1.1f, c.z * 0.35f) * r.in(0.5f, 1.3f);
  m.vein = mix(c, v3(0.35f, 0.4f, 0.25f), 0.6f);
  m.type = MAT_LEAF;
  m.gloss = s.gloss * r.in(0.4f, 1.2f) * (1 - dust);
  m.veinScale = s.veinScale;
  m.veinAmount = s.veinAmount * r.in(0.3f, 1);
  m.mottle = r.in(0, 0.3f) + (r.chance(0.07f) ? r.in(0.3f, 0.8f) : 0);
  m.holes = r.chance(damage) ? r.in(0.02f, 0.3f) : 0;
  m.serration = s.serration;
  m.teeth = s.teeth;
  m.seed = r.next();
  return m;
}

struct PlantBuild {
  Mesh& mesh;
  Rng& r;
  const Species& s;
  int id;
  float damage, size;
  float reach = 0, top = 0;
  V3 sum = V3{0, 0, 0};  // of the places where leaves join the stem, weighted by leaf area
  float weight = 0;
  void joined(V3 node, float area) {
    sum = sum + node * area;
    weight += area;
  }
};

inline void leafOn(PlantBuild& b, V3 node, float azimuth, float elevation, float petiole, float length, float ratio, bool cotyledon, float open, const V3* attach = nullptr) {
  const Species& s = b.s;
  Rng& r = b.r;
  V3 dir = v3(cosf(azimuth) * cosf(elevation), sinf(azimuth) * cosf(elevation), sinf(elevation));
  V3 end = node + dir * petiole;
  if (petiole > 0.001f) {
    Material pm = leafMaterial(s, s.stemColour, r, 0);
    pm.type = MAT_STEM;
    pm.serration = pm.holes = 0;
    V3 mid = node + dir * (0.5f * petiole) + v3(0, 0, 0.08f * petiole);
    addTube(b.mesh, {node, mid, end}, s.stemRadius * 0.6f, s.stemRadius * 0.45f, 3, b.mesh.add(pm), b.id);
  }
  LeafShape shape;
  shape.length = length * expf(0.1f * r.normal());
  shape.width = shape.length * ratio * mixf(0.35f, 1, open) * expf(0.08f * r.normal());
  shape.widest = cotyledon ? s.cotWidest : s.leafWidest;
  shape.blunt = cotyledon ? s.cotBlunt : s.leafBlunt;
  shape.cordate = cotyledon ? s.cotCordate : s.leafCordate;
  shape.baseGap = shape.cordate > 0.04f ? 0.6f : 0;
  shape.fold = clampf(mixf(1.1f, s.fold, open) + 0.12f * r.normal(), -0.3f, 1.3f);
  shape.curl = (cotyledon ? 0.3f * s.droop : s.droop) * r.in(0.2f, 1.4f) - (1 - open) * 0.2f;
  shape.wave = s.wave * r.in(0, 1);
  shape.twist = 0.2f * r.normal();
  shape.asymmetry = 0.05f * r.normal();
  float pitch = clampf(s.leafPitch + 0.22f * r.normal() + (1 - open) * 0.9f - (cotyledon ? 0.1f : 0), -1.2f, 1.45f);
  float az = azimuth + 0.15f * r.normal();
  V3 along = v3(cosf(az) * cosf(pitch), sinf(az) * cosf(pitch), sinf(pitch));
  float roll = 0.2f * r.normal();
  Frame f = frameOf(along, unit(v3(-sinf(az) * roll, cosf(az) * roll, 1)));
  Material m = leafMaterial(s, cotyledon ? s.cotColour : s.leafColour, r, b.damage);
  if (cotyledon) m.serration = 0, m.veinAmount *= 0.3f;
  b.joined(attach ? *attach : node, shape.length * shape.width);
  V3 tip = addLeaf(b.mesh, end, f, shape, b.mesh.add(m), b.id, r.next());
  V3 d = tip - node;
  b.reach = fmaxf(b.reach, sqrtf(d.x * d.x + d.y * d.y));
  b.top = fmaxf(b.top, fmaxf(tip.z, end.z));
}

/** Builds one plant; returns its crown: the middle of the places where its leaves join the stem, by leaf area. */
inline V3 buildDicot(PlantBuild& b, V3 base, float stage, float azimuth0) {
  const Species& s = b.s;
  Rng& r = b.r;
  float k = b.size;
  float leanAz = r.in(0, 6.283f), lean = fminf(s.lean * fabsf(r.normal()), 0.9f);
  V3 leanDir = v3(cosf(leanAz) * lean, sinf(leanAz) * lean, 1);
  Material sm = leafMaterial(s, s.stemColour, r, 0);
  sm.type = MAT_STEM;
  sm.serration = sm.holes = 0;
  int stem = b.mesh.add(sm);
  float radius = s.stemRadius * k;
  if (stage < 0.6f) {  // hook: the stem arches and carries folded cotyledons
    float h = k * s.stemHeight * mixf(0.25f, 0.7f, stage / 0.6f) + 0.006f, bow = h * r.in(0.35f, 0.7f);
    V3 side = v3(cosf(azimuth0), sinf(azimuth0), 0);
    std::vector<V3> line;
    float turn = mixf(3.0f, 1.3f, stage / 0.6f);
    for (int i = 0; i <= 6; i++) {
      float t = i / 6.0f, a = turn * fmaxf(0.0f, t - 0.35f) / 0.65f;
      line.push_back(base + v3(0, 0, h * fminf(1.0f, t / 0.6f) - (t > 0.6f ? (1 - cosf(a)) * 0.25f * h : 0)) + side * (bow * (1 - cosf(a)) * 0.5f));
    }
    addTube(b.mesh, line, radius * 1.3f, radius * 1.5f, 5, stem, b.id);
    V3 head = line.back();
    for (int c = 0; c < 2; c++) leafOn(b, head, azimuth0 + (c ? 0.35f : -0.35f), -1.0f + stage, 0, s.cotLength * k, s.cotRatio, true, 0.3f);
    b.reach = fmaxf(b.reach, bow);
    b.top = fmaxf(b.top, h);
    return head;
  }
  float grown = clampf((stage - 0.6f) / 1.6f, 0, 1);
  float h = k * s.stemHeight * mixf(0.6f, 1, grown);
  // above the cotyledons the stem grows only with the first pair of leaves
  float above = (s.cotThick > 0 ? 0.4f : 0.12f) * clampf((stage - 1.05f) / 0.8f, 0, 1);
  V3 cotNode = base + leanDir * (h * (s.cotThick > 0 ? 0.6f : 0.88f));
  V3 node = cotNode + leanDir * (h * above + (stage < 1.05f ? 0.0f : 0.001f));
  addTube(b.mesh, {base - v3(0, 0, 0.01f), base, cotNode}, radius * 1.25f, radius * 1.1f, 5, stem, b.id);
  if (stage >= 1.05f) addTube(b.mesh, {cotNode, node}, radius * 1.1f, radius, 5, stem, b.id);
  float cotOpen = clampf((stage - 0.4f) / 0.6f, 0.15f, 1);
  for (int c = 0; c < 2; c++)
    if (stage < 1.3f || r.chance(s.cotyledonKept)) {
      float wilt = stage > 2.4f && s.cotThick > 0 ? 0.5f : 1;
      leafOn(b, cotNode, azimuth0 + 1.57f + 3.1416f * c, r.in(-0.1f, 0.4f), s.cotPetiole * k, s.cotLength * k * wilt * mixf(0.75f, 1, cotOpen), s.cotRatio, true, cotOpen * wilt);
    }
  b.top = fmaxf(b.top, h);
  if (stage < 1.05f) return b.weight > 0 ? b.sum * (1 / b.weight) : node;
  float pair = clampf((stage - 1.0f) / 0.9f, 0.12f, 1);  // the first pair opens and grows
  for (int c = 0; c < 2; c++)
    if (!r.chance(0.03f))
      leafOn(b, node, azimuth0 + 3.1416f * c + 0.12f * r.normal(), mixf(1.2f, r.in(0.05f, 0.6f), pair), s.petiole * k * pair, s.leafLength * k * mixf(0.25f, 1, pair), s.leafRatio, false, clampf(pair * 1.3f, 0, 1));
  V3 top = node;
  float az = azimuth0 + 1.57f;
  for (int n = 0; n < 4; n++) {
    float age = stage - 2.0f - 0.8f * n;
    if (age <= 0) break;
    float g = clampf(age / 0.9f, 0.12f, 1);
    V3 next = top + leanDir * (s.internode * k * g);
    addTube(b.mesh, {top, next}, radius * 0.9f, radius * 0.7f, 4, stem, b.id);
    top = next;
    for (int c = 0; c < (s.opposite ? 2 : 1); c++) {
      float a = az + 3.1416f * c + 0.2f * r.normal(), L = s.leafLength * s.laterSize * k * mixf(0.2f, 0.9f, g);
      float el = mixf(1.3f, r.in(0.1f, 0.9f), g), pet = s.petiole * s.laterPetiole * k * g;
      if (s.leaflets == 3) {
        V3 d = v3(cosf(a) * cosf(el), sinf(a) * cosf(el), sinf(el));
        V3 joint = top + d * pet;
        addTube(b.mesh, {top, joint}, radius * 0.6f, radius * 0.5f, 3, stem, b.id);
        for (int l = -1; l <= 1; l++) leafOn(b, joint, a + 1.35f * l, 0.1f, l ? 0.0005f : L * 0.22f, L * 0.85f, s.leafRatio * 0.85f, false, clampf(g * 1.2f, 0, 1), &top);
        V3 far = joint + d * L - top;
        b.reach = fmaxf(b.reach, sqrtf(far.x * far.x + far.y * far.y));
      } else
        leafOn(b, top, a, el, pet * 0.7f, L, s.leafRatio, false, clampf(g * 1.2f, 0, 1));
    }
    az += s.opposite ? 1.57f : 2.4f;
  }
  return b.weight > 0 ? b.sum * (1 / b.weight) : top;
}

/** Many leaves from one low centre. */
inline V3 buildRosette(PlantBuild& b, V3 base, int leaves) {
  V3 c = base + v3(0, 0, 0.003f);
  float az = b.r.in(0, 6.283f);
  for (int i = 0; i < leaves; i++) {
    float g = 1 - 0.7f * i / leaves;
    leafOn(b, c, az, b.r.in(0.05f, 0.4f) + 0.6f * (1 - g), b.s.petiole * b.size * g, b.s.leafLength * b.size * g, b.s.leafRatio, false, clampf(g + 0.3f, 0, 1));
    az += 2.4f + 0.2f * b.r.normal();
  }
  return c;
}

inline V3 buildGrass(PlantBuild& b, V3 base, float size, int blades) {
  Rng& r = b.r;
  V3 crown = base + v3(0, 0, 0.004f);
  for (int i = 0; i < blades; i++) {
    float az = r.in(0, 6.283f), rise = r.in(0.5f, 1.5f), L = size * r.in(0.4f, 1.2f), bendTotal = r.in(0.1f, 1.6f);
    std::vector<V3> line;
    V3 p = base;
    for (int k = 0; k <= 6; k++) {
      line.push_back(p);
      float e = rise - bendTotal * k / 6;
      p = p + v3(cosf(az) * cosf(e), sinf(az) * cosf(e), sinf(e)) * (L / 6);
      if (p.z < base.z + 0.001f) p.z = base.z + 0.001f;
    }
    Material m = leafMaterial(b.s, b.s.leafColour, r, 0);
    m.serration = 0;
    addRibbon(b.mesh, line, fminf(0.012f, L * r.in(0.03f, 0.1f)), 0.0006f, v3(0.05f, 0.02f, 1), r.in(0, 0.6f), b.mesh.add(m), b.id);
    V3 d = line.back() - base;
    b.reach = fmaxf(b.reach, sqrtf(d.x * d.x + d.y * d.y));
    b.top = fmaxf(b.top, line[3].z);
  }
  return crown;
}
