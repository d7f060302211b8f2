// Host-side assembly of a scene: draw everything, then list the triangles of each ground cell.
#pragma once
#include "scenes.h"

/** Share of settings that differ between training scenes and held-out scenes (a shifted generator). */
struct Variant {
  int held;        // 0 training, 1 held-out settings, 2 held-out: plain field, one row of beans from first pair to first trifoliate
  int forcedView;  // -1 or a ViewKind
};

inline void fillGrid(Scene& sc, float W, float H) {
  View& v = sc.view;
  const float pad = 0.26f;
  v.gridStep = 0.02f;
  v.gridX0 = -pad;
  v.gridY0 = -pad;
  v.gridW = (int)((W + 2 * pad) / v.gridStep) + 1;
  v.gridH = (int)((H + 2 * pad) / v.gridStep) + 1;
  int cells = v.gridW * v.gridH;
  std::vector<int> count(cells + 1, 0);
  sc.cellTop.assign(cells, -1);
  auto span = [&](const Tri& t, int& x0, int& x1, int& y0, int& y1, float& top) {
    float ax = fminf(t.p[0].x, fminf(t.p[1].x, t.p[2].x)), bx = fmaxf(t.p[0].x, fmaxf(t.p[1].x, t.p[2].x));
    float ay = fminf(t.p[0].y, fminf(t.p[1].y, t.p[2].y)), by = fmaxf(t.p[0].y, fmaxf(t.p[1].y, t.p[2].y));
    top = fmaxf(t.p[0].z, fmaxf(t.p[1].z, t.p[2].z));
    x0 = (int)floorf((ax - v.gridX0) / v.gridStep);
    x1 = (int)floorf((bx - v.gridX0) / v.gridStep);
    y0 = (int)floorf((ay - v.gridY0) / v.gridStep);
    y1 = (int)floorf((by - v.gridY0) / v.gridStep);
    x0 = x0 < 0 ? 0 : x0;
    y0 = y0 < 0 ? 0 : y0;
    x1 = x1 >= v.gridW ? v.gridW - 1 : x1;
    y1 = y1 >= v.gridH ? v.gridH - 1 : y1;
  };
  v.zTop = 0.05f;
  for (int pass = 0; pass < 2; pass++) {
    if (pass == 1) {
      sc.cellStart.assign(cells + 1, 0);
      for (int i = 0; i < cells; i++) sc.cellStart[i + 1] = sc.cellStart[i] + count[i];
      sc.items.resize(sc.cellStart[cells]);
      std::fill(count.begin(), count.end(), 0);
    }
    for (int t = 0; t < (int)sc.mesh.tris.size(); t++) {
      int x0, x1, y0, y1;
      float top;
      span(sc.mesh.tris[t], x0, x1, y0, y1, top);
      v.zTop = fmaxf(v.zTop, top + 0.001f);
      for (int y = y0; y <= y1; y++)
        for (int x = x0; x <= x1; x++) {
          int c = y * v.gridW + x;
          if (pass == 1) {
            sc.items[sc.cellStart[c] + count[c]] = t;
            sc.cellTop[c] = fmaxf(sc.cellTop[c], top);
          }
          count[c]++;
        }
    }
  }
}

/** Projected leaf area of each plant, in strip pixels, as the camera sees it without occlusion. */
inline void measureLeaves(Scene& sc) {
  const View& v = sc.view;
  auto project = [&](V3 p, float& x, float& y) {
    float k = p.z / (v.camera.z - p.z);
    x = p.x + (p.x - v.camera.x) * k;
    y = p.y + (p.y - v.camera.y) * k;
  };
  for (const Tri& t : sc.mesh.tris) {
    if (t.plant < 1) continue;
    float x[3], y[3];
    for (int k = 0; k < 3; k++) project(t.p[k], x[k], y[k]);
    float area = 0.5f * fabsf((x[1] - x[0]) * (y[2] - y[0]) - (x[2] - x[0]) * (y[1] - y[0]));
    sc.plants[t.plant - 1].leafAreaPx += area / (v.metresPerPx * v.metresPerPx);
  }
}

inline void buildScene(Scene& sc, uint32_t seed, int width, int height, float metresPerPx, int samples, Variant variant) {
  Rng r{hash32(seed * 2654435761U + 12345u + (variant.held ? 0x5bd1e995u : 0u))};
  for (int i = 0; i < 4; i++) r.next();
  float W = width * metresPerPx, H = height * metresPerPx;
  View& v = sc.view;
  v = View{};
  v.x0 = 0;
  v.y0 = 0;
  v.metresPerPx = metresPerPx;
  v.width = width;
  v.height = height;
  v.samples = samples;
  v.seed = r.next();
  v.soil = drawSoil(r, H);
  v.light = drawLight(r);
  if (variant.held) {  // settings the training scenes never use: a greener, duller soil tint and another clod scale
    v.soil.light = v.soil.light * v3(0.93f, 1.02f, 1.06f);
    for (int k = 0; k < 4; k++) v.soil.clodSize[k] *= 1.35f;
    v.light.sky = v.light.sky * v3(1.1f, 1.0f, 0.85f);
  }
  const int margin = (int)(0.096f / metresPerPx + 0.5f);
  v.mapStep = metresPerPx;
  v.mapW = width + 2 * margin;
  v.mapH = height + 2 * margin;
  v.mapX0 = v.mapY0 = -margin * metresPerPx;
  drawCamera(sc, r, W, H, variant.forcedView);

  float pick = r.u();
  int kind = pick < 0.74f ? ROW : (pick < 0.83f ? SCATTER : (pick < 0.96f ? EMPTY : DENSE));
  float q = r.u();  // stage of the stand
  float stage = q < 0.08f ? r.in(0.1f, 0.8f) : (q < 0.26f ? r.in(0.8f, 1.2f) : (q < 0.64f ? r.in(1.2f, 2.1f) : (q < 0.90f ? r.in(2.1f, 3.0f) : r.in(3.0f, 4.1f))));
  bool plain = variant.held == 2;
  if (plain) {
    kind = ROW;
    stage = r.in(1.4f, 2.9f);
  }
  addLitter(sc, r, W, H);
  addThings(sc, r, W, H);
  if (kind != EMPTY) addCrop(sc, r, W, H, kind, stage, plain);
  addWeeds(sc, r, W, H, kind == EMPTY);
  measureLeaves(sc);
  fillGrid(sc, W, H);
  sc.meta[0] = (v.camera.x - v.x0) / metresPerPx;
  sc.meta[1] = (v.camera.y - v.y0) / metresPerPx;
  sc.meta[2] = v.camera.z;
  sc.meta[4] = (float)kind;
  sc.meta[5] = stage;
  sc.meta[6] = 1 / metresPerPx;
  sc.meta[7] = 0;
}
