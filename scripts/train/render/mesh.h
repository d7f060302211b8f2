// Host-side mesh parts: leaves, stems, ribbons, lumps.
#pragma once
#include <vector>
#include "scene.h"

struct Mesh {
  std::vector<Tri> tris;
  std::vector<Material> materials;
  int add(const Material& m) {
    materials.push_back(m);
    return (int)materials.size() - 1;
  }
};

struct Frame {
  V3 along, side, up;  // unit, orthogonal
};
inline Frame frameOf(V3 along, V3 upHint) {
  Frame f;
  f.along = unit(along);
  V3 side = cross(upHint, f.along);
  if (dot(side, side) < 1e-8f) side = cross(v3(1, 0.01f, 0), f.along);
  f.side = unit(side);
  f.up = unit(cross(f.along, f.side));
  return f;
}

struct LeafShape {
  float length, width;    // metres
  float widest, blunt;    // where it is widest (0 base .. 1 tip); exponent of the outline, small = blunt
  float cordate, baseGap; // backward base lobes; half width left at the base
  float fold, curl, wave; // fold angle along the midrib, droop along the length (rad), ripple
  float twist, asymmetry;
};

/** Half width of a leaf blade at u (0 base, 1 tip), 0 to 1. */
inline float outline(const LeafShape& s, float u) {
  float a = logf(0.5f) / logf(clampf(s.widest, 0.15f, 0.85f));
  float w = powf(sinf(3.14159265f * powf(clampf(u, 1e-4f, 1.0f - 1e-4f), a)), s.blunt);
  return fmaxf(w, s.baseGap * (1 - u) * (1 - u) * (u < 0.5f ? 1 : 0));
}

/** A leaf blade from `base` along frame `f`. Returns the tip. */
inline V3 addLeaf(Mesh& mesh, V3 base, Frame f, const LeafShape& s, int material, int plant, uint32_t seed) {
  int nu = s.length > 0.02f ? 9 : (s.length > 0.008f ? 6 : 4), nv = s.length > 0.02f ? 4 : 2;
  std::vector<V3> pts((nu + 1) * (nv + 1));
  Rng r{seed};
  float ph1 = r.in(0, 6.28f), ph2 = r.in(0, 6.28f), waves = r.in(1.0f, 3.0f);
  V3 p = base;
  V3 dir = f.along, up = f.up;
  float step = s.length / nu;
  for (int i = 0; i <= nu; i++) {
    float u = (float)i / nu;
    float w = 0.5f * s.width * outline(s, u);
    float tw = s.twist * u;
    V3 side = unit(f.side * cosf(tw) + up * sinf(tw));
    for (int j = 0; j <= nv; j++) {
      float v = -1 + 2.0f * j / nv;
      float half = w * (1 + s.asymmetry * v);
      float lift = fabsf(v) * half * tanf(s.fold) - 0.25f * half * v * v * tanf(s.fold);
      float ripple = s.wave * s.width * sinf(waves * 6.283f * u + (v > 0 ? ph1 : ph2)) * v * v * 0.3f;
      float back = s.cordate * s.length * powf(1 - u, 3) * fabsf(v);
      pts[i * (nv + 1) + j] = p + side * (half * v) + up * (lift + ripple) - dir * back;
    }
    float bend = s.curl / nu;  // bend down along the length
    V3 d2 = unit(dir * cosf(bend) - up * sinf(bend));
    up = unit(up * cosf(bend) + dir * sinf(bend));
    dir = d2;
    p = p + dir * step;
  }
  auto at = [&](int i, int j) { return pts[i * (nv + 1) + j]; };
  auto normalAt = [&](int i, int j) {
    int i0 = i > 0 ? i - 1 : i, i1 = i < nu ? i + 1 : i, j0 = j > 0 ? j - 1 : j, j1 = j < nv ? j + 1 : j;
    if (i == 0 || i == nu) { i0 = i == 0 ? 0 : nu - 2 < 0 ? 0 : nu - 2; i1 = i == 0 ? (nu > 1 ? 2 : 1) : nu - 1; }
    V3 n = cross(at(i1, j) - at(i0, j), at(i == 0 ? 1 : (i == nu ? nu - 1 : i), j1) - at(i == 0 ? 1 : (i == nu ? nu - 1 : i), j0));
    if (dot(n, n) < 1e-18f) n = f.up;
    n = unit(n);
    return n;
  };
  for (int i = 0; i < nu; i++)
    for (int j = 0; j < nv; j++) {
      int q[4][2] = {{i, j}, {i + 1, j}, {i + 1, j + 1}, {i, j + 1}};
      int order[2][3] = {{0, 1, 2}, {0, 2, 3}};
      for (auto& o : order) {
        Tri t;
        for (int k = 0; k < 3; k++) {
          int a = q[o[k]][0], b = q[o[k]][1];
          t.p[k] = at(a, b);
          t.n[k] = normalAt(a, b);
          t.u[k] = (float)a / nu;
          t.v[k] = -1 + 2.0f * b / nv;
        }
        t.material = material;
        t.plant = plant;
        mesh.tris.push_back(t);
      }
    }
  return p;
}

/** A tapered tube along a polyline. */
inline void addTube(Mesh& mesh, const std::vector<V3>& line, float r0, float r1, int sides, int material, int plant) {
  int n = (int)line.size();
  if (n < 2) return;
  for (int i = 0; i + 1 < n; i++) {
    V3 d0 = unit(line[i + 1] - (i > 0 ? line[i - 1] : line[i])), d1 = unit((i + 2 < n ? line[i + 2] : line[i + 1]) - line[i]);
    Frame a = frameOf(d0, v3(0.13f, 0.31f, 0.94f)), b = frameOf(d1, v3(0.13f, 0.31f, 0.94f));
    float ra = mixf(r0, r1, (float)i / (n - 1)), rb = mixf(r0, r1, (float)(i + 1) / (n - 1));
    for (int k = 0; k < sides; k++) {
      float t0 = 6.2831853f * k / sides, t1 = 6.2831853f * (k + 1) / sides;
      V3 na0 = a.side * cosf(t0) + a.up * sinf(t0), na1 = a.side * cosf(t1) + a.up * sinf(t1);
      V3 nb0 = b.side * cosf(t0) + b.up * sinf(t0), nb1 = b.side * cosf(t1) + b.up * sinf(t1);
      V3 p[4] = {line[i] + na0 * ra, line[i + 1] + nb0 * rb, line[i + 1] + nb1 * rb, line[i] + na1 * ra};
      V3 nn[4] = {na0, nb0, nb1, na1};
      float u[4] = {(float)i / (n - 1), (float)(i + 1) / (n - 1), (float)(i + 1) / (n - 1), (float)i / (n - 1)};
      int order[2][3] = {{0, 1, 2}, {0, 2, 3}};
      for (auto& o : order) {
        Tri t;
        for (int m = 0; m < 3; m++) {
          t.p[m] = p[o[m]];
          t.n[m] = nn[o[m]];
          t.u[m] = u[o[m]];
          t.v[m] = 0;
        }
        t.material = material;
        t.plant = plant;
        mesh.tris.push_back(t);
      }
    }
  }
}

/** A flat ribbon along a polyline, facing `up`. */
inline void addRibbon(Mesh& mesh, const std::vector<V3>& line, float width, float tipWidth, V3 up, float cup, int material, int plant) {
  int n = (int)line.size();
  for (int i = 0; i + 1 < n; i++) {
    Frame f = frameOf(line[i + 1] - line[i], up);
    float u0 = (float)i / (n - 1), u1 = (float)(i + 1) / (n - 1);
    float w0 = 0.5f * mixf(width, tipWidth, u0 * u0), w1 = 0.5f * mixf(width, tipWidth, u1 * u1);
    for (int sgn = -1; sgn <= 1; sgn += 2) {
      V3 e0 = line[i] + f.side * (w0 * sgn) + f.up * (cup * w0), e1 = line[i + 1] + f.side * (w1 * sgn) + f.up * (cup * w1);
      V3 nrm = unit(f.up - f.side * (cup * sgn));
      V3 p[4] = {line[i], line[i + 1], e1, e0};
      float u[4] = {u0, u1, u1, u0}, v[4] = {0, 0, (float)sgn, (float)sgn};
      int order[2][3] = {{0, 1, 2}, {0, 2, 3}};
      for (auto& o : order) {
        Tri t;
        for (int m = 0; m < 3; m++) {
          t.p[m] = p[o[m]];
          t.n[m] = nrm;
          t.u[m] = u[o[m]];
          t.v[m] = v[o[m]];
        }
        t.material = material;
        t.plant = plant;
        mesh.tris.push_back(t);
      }
    }
  }
}

/** An ellipsoid (fingers, boots, stones, handles). */
inline void addLump(Mesh& mesh, V3 c, Frame f, V3 radii, int material) {
  const int A = 10, B = 6;
  auto at = [&](int i, int j, V3* n) {
    float a = 6.2831853f * i / A, b = -1.5708f + 3.14159f * j / B;
    V3 d = v3(cosf(a) * cosf(b), sinf(a) * cosf(b), sinf(b));
    *n = unit(f.along * (d.x / radii.x) + f.side * (d.y / radii.y) + f.up * (d.z / radii.z));
    return c + f.along * (d.x * radii.x) + f.side * (d.y * radii.y) + f.up * (d.z * radii.z);
  };
  for (int i = 0; i < A; i++)
    for (int j = 0; j < B; j++) {
      int q[4][2] = {{i, j}, {i + 1, j}, {i + 1, j + 1}, {i, j + 1}};
      int order[2][3] = {{0, 1, 2}, {0, 2, 3}};
      for (auto& o : order) {
        Tri t;
        for (int k = 0; k < 3; k++) {
          t.p[k] = at(q[o[k]][0], q[o[k]][1], &t.n[k]);
          t.u[k] = (float)q[o[k]][0] / A;
          t.v[k] = (float)q[o[k]][1] / B;
        }
        t.material = material;
        t.plant = 0;
        mesh.tris.push_back(t);
      }
    }
}
