// Renders batches of straightened strips of seedling rows, with truth. One source for nvcc (GPU) and g++ (CPU).
//   nvcc -O3 -arch=sm_90 -Xcompiler -fPIC,-fopenmp -shared render.cu -o librender.so
//   g++ -O3 -march=native -fopenmp -fPIC -shared -x c++ render.cu -o librender.so
#include <cstdio>
#include <cstring>
#include <thread>
#include "build.h"
#include "trace.h"

struct Batch {
  const View* views;
  const Tri* tris;
  const int* cellStart;
  const int* items;
  const float* cellTop;
  const Material* materials;
  float* maps;
  size_t mapStride;
  float* rgb;              // [scene][row][column][3], linear light
  unsigned char* plant;    // [scene][row][column], plant number
};

HD World worldOf(const Batch& b, int scene) {
  const View& v = b.views[scene];
  return World{&v, b.tris + v.firstTri, b.cellStart + v.firstCell, b.items + v.firstItem, b.cellTop + (v.firstCell - scene), b.materials + v.firstMaterial, b.maps + b.mapStride * scene};
}

HD void soilTexel(const Batch& b, int scene, int x, int y) {
  const View& v = b.views[scene];
  if (x >= v.mapW || y >= v.mapH) return;
  SoilPoint p = soilAt(v.soil, v.mapX0 + x * v.mapStep, v.mapY0 + y * v.mapStep);
  float* t = b.maps + b.mapStride * scene + 4 * ((size_t)y * v.mapW + x);
  t[0] = clampf(p.h, -0.058f, 0.058f);
  t[1] = p.colour.x;
  t[2] = p.colour.y;
  t[3] = p.colour.z;
}

HD void pixel(const Batch& b, int scene, int x, int y) {
  World w = worldOf(b, scene);
  const View& v = *w.view;
  if (x >= v.width || y >= v.height) return;
  Rng r{hash32(v.seed ^ hash2(x, y, 77))};
  V3 sum = v3(0, 0, 0);
  int plant = 0, centre = 0;
  for (int s = 0; s < v.samples; s++) {
    float jx = s ? r.u() - 0.5f : 0, jy = s ? r.u() - 0.5f : 0;
    V3 c = radiance(w, v.x0 + (x + jx) * v.metresPerPx, v.y0 + (y + jy) * v.metresPerPx, r, &plant);
    if (s == 0) centre = plant;
    sum = sum + v3(fminf(c.x, 8.0f), fminf(c.y, 8.0f), fminf(c.z, 8.0f));
  }
  size_t at = ((size_t)scene * v.height + y) * v.width + x;
  b.rgb[3 * at] = sum.x / v.samples;
  b.rgb[3 * at + 1] = sum.y / v.samples;
  b.rgb[3 * at + 2] = sum.z / v.samples;
  b.plant[at] = (unsigned char)centre;
}

#ifdef __CUDACC__
#define CHECK(call)                                                                        \
  do {                                                                                     \
    cudaError_t e_ = (call);                                                               \
    if (e_ != cudaSuccess) {                                                               \
      fprintf(stderr, "%s failed: %s (line %d)\n", #call, cudaGetErrorString(e_), __LINE__); \
      return 1;                                                                            \
    }                                                                                      \
  } while (0)
__global__ void soilKernel(Batch b) { soilTexel(b, blockIdx.z, blockIdx.x * 16 + threadIdx.x, blockIdx.y * 8 + threadIdx.y); }
__global__ void pixelKernel(Batch b) { pixel(b, blockIdx.z, blockIdx.x * 8 + threadIdx.x, blockIdx.y * 8 + threadIdx.y); }
#endif

/**
 * Renders `count` scenes with seeds seed, seed+1, ... `rgb` and `plant` are device pointers with CUDA, host pointers
 * without. `truth` [count][MAX_PLANTS][PLANT_FIELDS], `plants` [count] and `meta` [count][8] are on the host.
 * `held` 1 shifts the generator's settings; `forcedView` -1 draws the view, else 0 down, 1 side, 2 along. 0 on success.
 */
extern "C" int render_strips(int count, unsigned seed, int width, int height, float metresPerPx, int samples, int held, int forcedView, int threads, float* rgb, unsigned char* plant, float* truth, int* plants, float* meta) {
  std::vector<Scene> scenes(count);
  std::vector<std::thread> pool;
  for (int k = 0; k < threads; k++)
    pool.emplace_back([&, k]() {
      for (int i = k; i < count; i += threads) buildScene(scenes[i], seed + i, width, height, metresPerPx, samples, Variant{held, forcedView});
    });
  for (auto& t : pool) t.join();

  std::vector<View> views;
  std::vector<Tri> tris;
  std::vector<int> cellStart, items;
  std::vector<float> cellTop;
  std::vector<Material> materials;
  size_t mapStride = 0;
  for (int i = 0; i < count; i++) {
    Scene& s = scenes[i];
    s.view.firstTri = (int)tris.size();
    s.view.firstCell = (int)cellStart.size();
    s.view.firstItem = (int)items.size();
    s.view.firstMaterial = (int)materials.size();
    mapStride = std::max(mapStride, (size_t)4 * s.view.mapW * s.view.mapH);
    views.push_back(s.view);
    tris.insert(tris.end(), s.mesh.tris.begin(), s.mesh.tris.end());
    cellStart.insert(cellStart.end(), s.cellStart.begin(), s.cellStart.end());
    items.insert(items.end(), s.items.begin(), s.items.end());
    cellTop.insert(cellTop.end(), s.cellTop.begin(), s.cellTop.end());
    materials.insert(materials.end(), s.mesh.materials.begin(), s.mesh.materials.end());
    plants[i] = (int)s.plants.size();
    memset(truth + (size_t)i * MAX_PLANTS * PLANT_FIELDS, 0, sizeof(PlantTruth) * MAX_PLANTS);
    memcpy(truth + (size_t)i * MAX_PLANTS * PLANT_FIELDS, s.plants.data(), sizeof(PlantTruth) * s.plants.size());
    memcpy(meta + 8 * i, s.meta, sizeof(s.meta));
  }
  if (tris.empty()) tris.push_back(Tri{});
  if (items.empty()) items.push_back(0);
  if (materials.empty()) materials.push_back(Material{});
#ifdef __CUDACC__
  struct Upload {
    void** to;
    const void* from;
    size_t bytes;
  };
  View* dv;
  Tri* dt;
  int *dc, *di;
  float *dz, *maps;
  Material* dm;
  Upload ups[] = {{(void**)&dv, views.data(), views.size() * sizeof(View)}, {(void**)&dt, tris.data(), tris.size() * sizeof(Tri)}, {(void**)&dc, cellStart.data(), cellStart.size() * sizeof(int)}, {(void**)&di, items.data(), items.size() * sizeof(int)}, {(void**)&dz, cellTop.data(), cellTop.size() * sizeof(float)}, {(void**)&dm, materials.data(), materials.size() * sizeof(Material)}};
  for (auto& u : ups) {
    CHECK(cudaMalloc(u.to, u.bytes));
    CHECK(cudaMemcpy(*u.to, u.from, u.bytes, cudaMemcpyHostToDevice));
  }
  CHECK(cudaMalloc((void**)&maps, mapStride * count * sizeof(float)));
  Batch b{dv, dt, dc, di, dz, dm, maps, mapStride, rgb, plant};
  dim3 soilGrid((views[0].mapW + 15) / 16, (views[0].mapH + 7) / 8, count), pixelGrid((width + 7) / 8, (height + 7) / 8, count);
  soilKernel<<<soilGrid, dim3(16, 8)>>>(b);
  CHECK(cudaGetLastError());
  pixelKernel<<<pixelGrid, dim3(8, 8)>>>(b);
  CHECK(cudaGetLastError());
  CHECK(cudaDeviceSynchronize());
  for (auto& u : ups) CHECK(cudaFree(*u.to));
  CHECK(cudaFree(maps));
#else
  std::vector<float> maps(mapStride * count);
  Batch b{views.data(), tris.data(), cellStart.data(), items.data(), cellTop.data(), materials.data(), maps.data(), mapStride, rgb, plant};
  for (int i = 0; i < count; i++) {
#pragma omp parallel for schedule(dynamic, 8)
    for (int y = 0; y < views[i].mapH; y++)
      for (int x = 0; x < views[i].mapW; x++) soilTexel(b, i, x, y);
#pragma omp parallel for schedule(dynamic, 8)
    for (int y = 0; y < height; y++)
      for (int x = 0; x < width; x++) pixel(b, i, x, y);
  }
#endif
  return 0;
}
