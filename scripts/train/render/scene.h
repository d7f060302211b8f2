// What one scene is made of. Lengths in metres. x runs along the strip, y down it, z up from the nominal soil plane.
#pragma once
#include "vec.h"

enum MaterialType { MAT_LEAF = 0, MAT_STEM = 1, MAT_MATTE = 2, MAT_TAPE = 3 };

struct Material {
  V3 front, back, through;  // reflectance of the two sides; what a lit leaf lets through
  V3 vein;
  int type;
  float gloss, veinScale, veinAmount;
  float mottle, holes, serration, teeth;  // colour patches; share eaten; depth and number of teeth on the margin
  uint32_t seed;
};

struct Tri {
  V3 p[3], n[3];
  float u[3], v[3];
  int material, plant;  // plant: 1-based number of the plant it belongs to, 0 for none
};

struct Soil {
  uint32_t seed;
  V3 dark, light, stone, wetTint;
  float undulation, ridge, ridgeWidth, rowY;
  float clod[4], clodSize[4], bury, flat;  // share of cells holding a clod, and cell size
  float stoneShare;
  float rough, crackWidth, crackSize, crackWidth2, crackSize2, crackDepth, plateCurl;
  float wet, crust, contrast, gloss, grain;
  float z0, tiltX, tiltY;  // error of the straightened plane
};

struct Light {
  V3 sunDir, sun, sky, horizon;
  float sunRadius;
};

struct Camera {
  float x, y, z;
};

const int MAX_PLANTS = 120;
const int PLANT_FIELDS = 12;

/** One plant's truth, in strip pixels. */
struct PlantTruth {
  float crownX, crownY;  // as seen on the strip (displaced by its height)
  float baseX, baseY;    // where the stem meets the soil, on the ground plane
  float kind;            // 1 crop, 2 broadleaf weed, 3 grass weed
  float stage;           // 0 hook .. 4 second trifoliate
  float leafAreaPx;      // area of the leaves projected to the strip, overlaps counted twice
  float heightM;
  float spanM;           // widest reach of the leaves from the crown
  float crownZ;
  float groupId, spare;
};

struct View {
  Soil soil;
  Light light;
  Camera camera;
  float x0, y0, metresPerPx;  // position of pixel (0,0)
  int width, height;          // of the picture
  float mapX0, mapY0, mapStep;
  int mapW, mapH;             // height and colour map of the soil, larger than the picture
  float gridX0, gridY0, gridStep;
  int gridW, gridH;           // cells that list the triangles above them
  float zTop;                 // nothing reaches higher
  uint32_t seed;
  int samples;
  int firstTri, firstCell, firstItem, firstMaterial;  // where this scene's data begins in the batch
};
