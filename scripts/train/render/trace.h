// Rays against the soil's height map and the triangles above it; direct sun with penumbra, sky, one bounce.
#pragma once
#include "soil.h"

struct World {
  const View* view;
  const Tri* tris;
  const int* cellStart;
  const int* items;
  const float* cellTop;
  const Material* materials;
  const float* map;  // height, red, green, blue per texel
};

struct Hit {
  float t, u, v;
  int tri;  // -1 soil, -2 nothing
};

HD float soilHeight(const World& w, float x, float y, V3* colour) {
  const View& v = *w.view;
  float fx = clampf((x - v.mapX0) / v.mapStep, 0, v.mapW - 1.001f), fy = clampf((y - v.mapY0) / v.mapStep, 0, v.mapH - 1.001f);
  int ix = (int)fx, iy = (int)fy;
  float tx = fx - ix, ty = fy - iy;
  const float* a = w.map + 4 * ((size_t)iy * v.mapW + ix);
  const float* b = a + 4 * (size_t)v.mapW;
  if (colour) {
    V3 top = mix(v3(a[1], a[2], a[3]), v3(a[5], a[6], a[7]), tx), low = mix(v3(b[1], b[2], b[3]), v3(b[5], b[6], b[7]), tx);
    *colour = mix(top, low, ty);
  }
  return mixf(mixf(a[0], a[4], tx), mixf(b[0], b[4], tx), ty);
}

/** First crossing of the soil along a ray, or a huge number. */
HD float traceSoil(const World& w, V3 o, V3 d, float tMin, float tMax, int steps) {
  const float top = 0.06f;
  float t = tMin;
  if (o.z + d.z * t > top) {
    if (d.z >= 0) return 1e9f;
    t = (top - o.z) / d.z;
  }
  float flat = sqrtf(d.x * d.x + d.y * d.y), before = t;
  for (int i = 0; i < steps && t < tMax; i++) {
    V3 p = o + d * t;
    if (d.z > 0 && p.z > top) return 1e9f;
    float gap = p.z - soilHeight(w, p.x, p.y, nullptr);
    if (gap < 0.0002f) {
      float lo = before, hi = t;
      for (int k = 0; k < 4; k++) {
        float m = 0.5f * (lo + hi);
        V3 q = o + d * m;
        if (q.z - soilHeight(w, q.x, q.y, nullptr) < 0.0002f) hi = m;
        else lo = m;
      }
      return hi;
    }
    before = t;
    float speed = fmaxf(0.35f, fabsf(d.z) + flat);
    t += fmaxf(0.0011f, 0.55f * gap / speed);
  }
  return 1e9f;
}

HD bool cutAway(const Material& m, float u, float v) {
  if (m.serration > 0) {
    float s = u * m.teeth, tooth = s - floorf(s);
    if (fabsf(v) > 1 - m.serration * (m.serration > 0.25f ? fabsf(2 * tooth - 1) : tooth)) return true;
  }
  if (m.holes > 0 && fbm(u * 5 + (m.seed & 255), v * 2.5f + 9, m.seed, 3) < 0.25f + 0.5f * m.holes) return true;
  return false;
}

HD bool hitTri(const World& w, int id, V3 o, V3 d, float tMin, Hit* best) {
  const Tri& t = w.tris[id];
  V3 e1 = t.p[1] - t.p[0], e2 = t.p[2] - t.p[0], pv = cross(d, e2);
  float det = dot(e1, pv);
  if (fabsf(det) < 1e-14f) return false;
  float inv = 1 / det;
  V3 tv = o - t.p[0];
  float b1 = dot(tv, pv) * inv;
  if (b1 < 0 || b1 > 1) return false;
  V3 qv = cross(tv, e1);
  float b2 = dot(d, qv) * inv;
  if (b2 < 0 || b1 + b2 > 1) return false;
  float dist = dot(e2, qv) * inv;
  if (dist <= tMin || dist >= best->t) return false;
  const Material& m = w.materials[t.material];
  if (m.serration > 0 || m.holes > 0) {
    float b0 = 1 - b1 - b2;
    if (cutAway(m, t.u[0] * b0 + t.u[1] * b1 + t.u[2] * b2, t.v[0] * b0 + t.v[1] * b1 + t.v[2] * b2)) return false;
  }
  best->t = dist;
  best->u = b1;
  best->v = b2;
  best->tri = id;
  return true;
}

/** Walks the ground cells under a ray. With `any`, stops at the first hit. */
HD bool traceTris(const World& w, V3 o, V3 d, float tMin, bool any, Hit* best) {
  const View& v = *w.view;
  float t0 = tMin, t1 = best->t;
  if (fabsf(d.z) > 1e-9f) {  // only between the soil's bottom and the highest leaf
    float a = (v.zTop - o.z) / d.z, b = (-0.06f - o.z) / d.z;
    t0 = fmaxf(t0, fminf(a, b));
    t1 = fminf(t1, fmaxf(a, b));
  }
  float sx = v.gridX0, sy = v.gridY0, ex = sx + v.gridW * v.gridStep, ey = sy + v.gridH * v.gridStep;
  float ix = 1 / (fabsf(d.x) > 1e-9f ? d.x : 1e-9f), iy = 1 / (fabsf(d.y) > 1e-9f ? d.y : 1e-9f);
  float ax = (sx - o.x) * ix, bx = (ex - o.x) * ix, ay = (sy - o.y) * iy, by = (ey - o.y) * iy;
  t0 = fmaxf(t0, fmaxf(fminf(ax, bx), fminf(ay, by)));
  t1 = fminf(t1, fminf(fmaxf(ax, bx), fmaxf(ay, by)));
  if (t0 >= t1) return false;
  V3 p = o + d * t0;
  int cx = (int)clampf((p.x - sx) / v.gridStep, 0, v.gridW - 1.0f), cy = (int)clampf((p.y - sy) / v.gridStep, 0, v.gridH - 1.0f);
  int stepX = ix > 0 ? 1 : -1, stepY = iy > 0 ? 1 : -1;
  float nextX = (sx + (cx + (stepX > 0)) * v.gridStep - o.x) * ix, nextY = (sy + (cy + (stepY > 0)) * v.gridStep - o.y) * iy;
  float dX = v.gridStep * fabsf(ix), dY = v.gridStep * fabsf(iy), t = t0;
  bool found = false;
  for (int guard = 0; guard < 400; guard++) {
    float out = fminf(fminf(nextX, nextY), t1);
    int c = cy * v.gridW + cx;
    float zLow = fminf(o.z + d.z * t, o.z + d.z * out);
    if (zLow < w.cellTop[c] + 1e-4f)
      for (int k = w.cellStart[c]; k < w.cellStart[c + 1]; k++)
        if (hitTri(w, w.items[k], o, d, tMin, best)) {
          found = true;
          if (any) return true;
        }
    if (found && best->t <= out + 1e-6f) return true;
    if (out >= t1) return found;
    t = out;
    if (nextX < nextY) {
      cx += stepX;
      nextX += dX;
    } else {
      cy += stepY;
      nextY += dY;
    }
    if (cx < 0 || cy < 0 || cx >= v.gridW || cy >= v.gridH) return found;
  }
  return found;
}

HD V3 jitterDir(V3 dir, float radius, Rng& r) {
  float a = 6.2831853f * r.u(), k = radius * sqrtf(r.u());
  V3 s = unit(cross(dir, v3(0.31f, 0.17f, 0.93f))), q = cross(dir, s);
  return unit(dir + s * (k * cosf(a)) + q * (k * sinf(a)));
}

/** Colour of the light that leaves the strip at the pixel's ground point toward the camera, and what plant is there. */
HD V3 radiance(const World& w, float gx, float gy, Rng& r, int* plant) {
  const View& v = *w.view;
  const Light& L = v.light;
  V3 o = v3(v.camera.x, v.camera.y, v.camera.z), d = unit(v3(gx, gy, 0) - o);
  Hit h{1e9f, 0, 0, -2};
  float ts = traceSoil(w, o, d, 0, 1e8f, 220);
  if (ts < 1e8f) h.t = ts, h.tri = -1;
  traceTris(w, o, d, 0, false, &h);
  *plant = 0;
  if (h.tri == -2) h.t = -o.z / d.z, h.tri = -1;
  V3 p = o + d * h.t, n, colour, through = v3(0, 0, 0);
  float gloss = 0;
  bool leaf = false;
  if (h.tri < 0) {
    const float e = v.mapStep;
    float hx = soilHeight(w, p.x + e, p.y, nullptr) - soilHeight(w, p.x - e, p.y, nullptr), hy = soilHeight(w, p.x, p.y + e, nullptr) - soilHeight(w, p.x, p.y - e, nullptr);
    n = unit(v3(-hx, -hy, 2 * e));
    soilHeight(w, p.x, p.y, &colour);
    gloss = v.soil.gloss;
  } else {
    const Tri& t = w.tris[h.tri];
    const Material& m = w.materials[t.material];
    float b0 = 1 - h.u - h.v, uu = t.u[0] * b0 + t.u[1] * h.u + t.u[2] * h.v, vv = t.v[0] * b0 + t.v[1] * h.u + t.v[2] * h.v;
    n = unit(t.n[0] * b0 + t.n[1] * h.u + t.n[2] * h.v);
    V3 face = cross(t.p[1] - t.p[0], t.p[2] - t.p[0]);
    bool back = m.type == MAT_LEAF && dot(d, n) > 0;
    colour = back ? m.back : m.front;
    if (dot(d, n) > 0) n = n * -1.0f;
    if (dot(face, n) < 0) face = face * -1.0f;
    if (dot(n, d) > -0.02f) n = unit(face);
    gloss = m.gloss;
    if (m.type == MAT_LEAF) {
      leaf = true;
      through = m.through;
      float av = fabsf(vv), s = uu * m.veinScale - av * 1.6f, rib = fmaxf(1 - av / 0.09f, 0.6f * (1 - fabsf(s - floorf(s) - 0.5f) / 0.08f));
      colour = mix(colour, m.vein, clampf(rib, 0, 1) * m.veinAmount);
    } else if (m.type == MAT_TAPE) {
      float s = uu * m.veinScale, tick = s - floorf(s);
      bool tenth = ((int)floorf(s)) % 10 == 0;
      if ((tick < 0.12f && vv > (tenth ? -0.2f : 0.45f)) || (tenth && tick > 0.2f && tick < 0.8f && vv < -0.1f && vv > -0.75f && fbm(s * 9, vv * 6, m.seed, 2) > 0.5f)) colour = m.vein;
    }
    colour = colour * (1 + m.mottle * 2 * (fbm(uu * 6 + 3, vv * 3 + 7, m.seed, 3) - 0.5f));
    *plant = t.plant;
  }
  const float eps = 4e-4f;
  V3 out = v3(0, 0, 0), ground = (v.soil.light + v.soil.dark) * 0.5f;
  V3 bounce = ground * (L.sun * (0.3f * L.sunDir.z) + L.sky * 0.4f);
  // sun
  V3 sd = jitterDir(L.sunDir, L.sunRadius, r);
  float facing = dot(n, sd);
  if (facing > 0 || leaf) {
    V3 so = p + n * (facing > 0 ? eps : -eps);
    Hit s{1e9f, 0, 0, -2};
    V3 pass = v3(1, 1, 1);
    if (traceSoil(w, so, sd, 0.0006f, 0.6f, 60) < 1e8f) pass = v3(0, 0, 0);
    else if (traceTris(w, so, sd, 0.0006f, true, &s)) {
      const Material& m = w.materials[w.tris[s.tri].material];
      pass = m.type == MAT_LEAF ? m.through * 0.7f : v3(0, 0, 0);
    }
    out = out + (facing > 0 ? colour : through) * L.sun * pass * fabsf(facing);
    if (facing > 0 && gloss > 0) {
      V3 half = unit(sd - d);
      float shine = powf(fmaxf(0.0f, dot(half, n)), 24.0f) * gloss * 0.6f;
      out = out + L.sun * pass * shine;
    }
  }
  // sky or a bounce
  float a = 6.2831853f * r.u(), q = r.u(), rr = sqrtf(q);
  V3 s1 = unit(cross(n, v3(0.37f, 0.91f, 0.13f))), s2 = cross(n, s1);
  V3 dir = unit(s1 * (rr * cosf(a)) + s2 * (rr * sinf(a)) + n * sqrtf(1 - q));
  V3 in;
  Hit s{0.3f, 0, 0, -2};
  V3 so = p + n * eps;
  if (traceTris(w, so, dir, 0.0006f, true, &s)) {
    const Material& m = w.materials[w.tris[s.tri].material];
    in = m.front * (L.sun * 0.25f + L.sky * 0.4f) + m.through * L.sun * 0.2f;
  } else if (dir.z < 0 || traceSoil(w, so, dir, 0.0006f, 0.1f, 24) < 1e8f) in = bounce;
  else in = mix(L.horizon, L.sky, dir.z);
  out = out + colour * in;
  if (leaf) out = out + through * (bounce + L.sky * 0.3f) * 0.6f;
  if (gloss > 0) out = out + L.sky * (0.06f * gloss);
  return out;
}
