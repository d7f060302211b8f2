/** GLSL of the scene renderer (WebGL 2). Lighting is linear; see README.md of the folder above for what is left out. */

const NOISE = /* glsl */ `
float hash(vec2 p) { vec3 q = fract(vec3(p.xyx) * 0.1031); q += dot(q, q.yzx + 33.33); return fract((q.x + q.y) * q.z); }
float vnoise(vec2 p) {
  vec2 i = floor(p), f = fract(p); f = f * f * (3.0 - 2.0 * f);
  return mix(mix(hash(i), hash(i + vec2(1, 0)), f.x), mix(hash(i + vec2(0, 1)), hash(i + vec2(1, 1)), f.x), f.y);
}
/** True where the leaf is eaten or torn away; code = seed + damage (the fraction). */
bool holed(vec2 uv, float code) {
  float d = fract(code), s = floor(code);
  if (d < 0.03) return false;
  float edge = max(abs(uv.x), smoothstep(0.4, 1.0, uv.y));
  float n = vnoise(uv * vec2(1.7, 3.1) + s * 7.13) * 0.75 + vnoise(uv * vec2(5.0, 9.0) + s * 3.7) * 0.25;
  if (n + 0.55 * edge * edge > 1.5 - 1.0 * d) return true;
  for (int i = 0; i < 3; i++) {
    vec2 c = vec2(hash(vec2(s, float(i))) * 1.5 - 0.75, 0.15 + 0.7 * hash(vec2(float(i) + 4.0, s)));
    float r = (0.05 + 0.24 * d * hash(vec2(s + 2.0, float(i)))) * (0.8 + 0.5 * vnoise(uv * 9.0 + s));
    if (hash(vec2(s + 9.0, float(i))) < d * 1.4 && length((uv - c) * vec2(0.8, 1.6)) < r) return true;
  }
  return false;
}`;

export const depthVertex = /* glsl */ `
in vec4 surface;
out vec4 vSurface;
void main() { vSurface = surface; gl_Position = projectionMatrix * viewMatrix * vec4(position, 1.0); }`;

export const depthFragment = /* glsl */ `
in vec4 vSurface;
out vec4 colour;
#ifdef THINGS
${NOISE}
#endif
void main() {
#ifdef THINGS
  if (abs(vSurface.z - 1.0) < 0.5 && holed(vSurface.xy, vSurface.w)) discard;
#endif
  colour = vec4(1.0);
}`;

export const idVertex = /* glsl */ `
in vec4 surface; in float plantId;
out vec4 vSurface; flat out float vId;
void main() { vSurface = surface; vId = plantId; gl_Position = projectionMatrix * viewMatrix * vec4(position, 1.0); }`;

export const idFragment = /* glsl */ `
in vec4 vSurface; flat in float vId;
out vec4 colour;
${NOISE}
void main() {
  if (abs(vSurface.z - 1.0) < 0.5 && holed(vSurface.xy, vSurface.w)) discard;
  float id = floor(vId + 0.5);
  colour = vec4(mod(id, 256.0) / 255.0, floor(id / 256.0) / 255.0, 0.0, 1.0);
}`;

export const quadVertex = /* glsl */ `
out vec2 vUv;
void main() { vUv = position.xy * 0.5 + 0.5; gl_Position = vec4(position.xy, 0.0, 1.0); }`;

/** Adds one sky direction to the light of every vertex: red for the side of the normal, green for the other. */
export const skyFragment = /* glsl */ `
uniform highp sampler2D points; uniform highp sampler2D normals; uniform highp sampler2D depthMap;
uniform mat4 toDepth; uniform vec3 direction; uniform float weight; uniform float biasM;
out vec4 colour;
void main() {
  ivec2 at = ivec2(gl_FragCoord.xy);
  vec3 p = texelFetch(points, at, 0).xyz;
  vec3 n = texelFetch(normals, at, 0).xyz;
  vec4 q = toDepth * vec4(p + direction * biasM + n * 0.001, 1.0);
  vec3 s = q.xyz / q.w * 0.5 + 0.5;
  float lit = 1.0;
  if (all(greaterThan(s.xy, vec2(0.0))) && all(lessThan(s.xy, vec2(1.0)))) lit = step(s.z, texture(depthMap, s.xy).r);
  float c = dot(n, direction);
  colour = vec4(lit * max(c, 0.0) * weight, lit * max(-c, 0.0) * weight, 0.0, 0.0);
}`;

export const sceneVertex = /* glsl */ `
in vec3 tint; in vec4 surface;
uniform float firstVertex; uniform highp sampler2D skyLight;
out vec3 vTint; out vec4 vSurface; out vec3 vNormal; out vec3 vAt; out vec2 vSky;
void main() {
  vTint = tint; vSurface = surface; vNormal = normal; vAt = position;
  int id = int(firstVertex) + gl_VertexID;
  vSky = texelFetch(skyLight, ivec2(id % 2048, id / 2048), 0).rg;
  gl_Position = projectionMatrix * viewMatrix * vec4(position, 1.0);
}`;

export const sceneFragment = /* glsl */ `
in vec3 vTint; in vec4 vSurface; in vec3 vNormal; in vec3 vAt; in vec2 vSky;
uniform sampler2D detail; uniform sampler2D print;
uniform highp sampler2D sunNear; uniform highp sampler2D sunFar; uniform mat4 toNear; uniform mat4 toFar;
uniform vec3 sunDirection; uniform vec3 sunColour; uniform vec3 skyColour; uniform vec3 bounce;
uniform float wet; uniform float dust; uniform vec3 dustColour; uniform float softness; uniform float relief; uniform vec3 eye;
out vec4 colour;
${NOISE}
float pcf(highp sampler2D map, vec3 s, float radius) {
  vec2 px = radius / vec2(textureSize(map, 0));
  float lit = 0.0;
  lit += step(s.z, texture(map, s.xy + px * vec2(0.9, 0.4)).r) + step(s.z, texture(map, s.xy + px * vec2(-0.4, 0.9)).r);
  lit += step(s.z, texture(map, s.xy + px * vec2(-0.9, -0.4)).r) + step(s.z, texture(map, s.xy + px * vec2(0.4, -0.9)).r);
  return lit * 0.25;
}
bool inside(vec3 s) { return all(greaterThan(s.xy, vec2(0.004))) && all(lessThan(s.xy, vec2(0.996))); }
float sunLight(vec3 p) {
  vec4 a = toNear * vec4(p, 1.0); vec3 s = a.xyz / a.w * 0.5 + 0.5;
  if (inside(s)) return pcf(sunNear, s, softness);
#ifdef FAR
  a = toFar * vec4(p, 1.0); s = a.xyz / a.w * 0.5 + 0.5;
  if (inside(s)) return pcf(sunFar, s, 1.0);
#endif
  return 1.0;
}
void main() {
  float material = vSurface.z;
  vec3 view = normalize(eye - vAt);
  vec3 n = normalize(vNormal);
  vec3 albedo = vTint;
  float gloss = 0.0, rough = 0.5, through = 0.0;
  vec2 sky = vSky;
#ifdef SOIL
    mat2 turn = mat2(0.8, 0.6, -0.6, 0.8);
    vec4 a = texture(detail, vAt.xy / 0.23), b = texture(detail, turn * vAt.xy / 0.61), c = texture(detail, turn * vAt.yx / 0.11);
    vec2 slope = (a.rg - 0.5) * 1.1 + (b.rg - 0.5) * 0.8 + (c.rg - 0.5) * 0.8;
    n = normalize(n + vec3(slope * relief, 0.0));
    albedo *= max(0.15, 1.0 + 0.75 * (a.b - 0.5) + 0.5 * (b.b - 0.5) + 0.55 * (c.b - 0.5));
    gloss = wet; rough = 0.45;
#endif
#if defined(THINGS) || defined(STONE)
  if (material < 0.5) {
    vec4 a = texture(detail, vAt.xy / 0.23 + vAt.z * 3.0);
    n = normalize(n + vec3((a.rg - 0.5) * relief, 0.0)); albedo *= max(0.15, 1.0 + (a.b - 0.5)); gloss = wet; rough = 0.45;
  }
#endif
#ifdef THINGS
  if (abs(material - 1.0) < 0.5) {
    if (holed(vSurface.xy, vSurface.w)) discard;
    float u = vSurface.x, v = vSurface.y;
    float sd = floor(vSurface.w);
    float rib = 1.0 - smoothstep(0.02, 0.02 + 0.09 * (1.0 - v), abs(u));
    float t = fract(v * 6.0 - abs(u) * 1.5 + 0.2);
    float vein = (1.0 - smoothstep(0.0, 0.16, min(t, 1.0 - t))) * smoothstep(0.0, 0.1, v) * (1.0 - abs(u));
    float mottle = vnoise(vec2(u * 3.0, v * 5.0) + sd) * 0.5 + vnoise(vec2(u * 9.0, v * 15.0) + sd) * 0.5;
    albedo *= 0.82 + 0.36 * mottle;
    albedo = mix(albedo, albedo * vec3(1.55, 1.35, 1.3), 0.55 * rib);
    albedo *= 1.0 - 0.16 * vein;
    float brown = smoothstep(0.72, 0.95, vnoise(vec2(u * 2.0, v * 3.0) + sd * 1.7) + 0.25 * fract(vSurface.w));
    albedo = mix(albedo, vec3(0.22, 0.14, 0.05), brown * fract(vSurface.w) * 0.9);
    if (dot(n, view) < 0.0) { n = -n; sky = sky.yx; albedo = mix(albedo, vec3(0.28, 0.34, 0.2), 0.42); gloss = 0.25; }
    else { gloss = 1.0; albedo = mix(albedo, dustColour, dust * (0.35 + 0.65 * vnoise(vAt.xy * 500.0)) * smoothstep(0.1, 0.9, n.z)); }
    rough = 0.42; through = 0.62;
  } else if (abs(material - 2.0) < 0.5) { gloss = 0.25; albedo *= 0.85 + 0.3 * vnoise(vSurface.xy * vec2(9.0, 17.0) + vAt.xy * 90.0); }
  else if (material > 3.5) { gloss = 0.9; rough = 0.35; if (dot(n, view) < 0.0) n = -n; }
#endif
#ifdef PRINT
    albedo = texture(print, vSurface.xy).rgb * 0.92;
    albedo = mix(albedo, dustColour, 0.1 * smoothstep(0.35, 0.9, vnoise(vAt.xy * 60.0)) + 0.1 * smoothstep(0.6, 0.9, vnoise(vAt.xy * 300.0)));
    gloss = 0.7; rough = 0.4;
#endif
  float cosSun = dot(n, sunDirection);
#ifdef SUN
  float lit = sunLight(vAt + sunDirection * (material < 0.5 ? 0.0022 : 0.0018) + n * (material < 0.5 ? 0.0006 : 0.0));
#else
  float lit = 0.0;
#endif
  vec3 sun = sunColour * lit;
  vec3 under = bounce * (0.5 - 0.5 * n.z);
#ifdef SOIL
  // Rough ground: grains too small to show catch light past the edge of their shade.
  float facing = 0.5 * (cosSun + sqrt(cosSun * cosSun + 0.025));
#else
  float facing = max(cosSun, 0.0);
#endif
  vec3 light = sun * facing + skyColour * sky.x + under;
  vec3 result = albedo * light;
#ifdef THINGS
  {
    vec3 glow = albedo * vec3(1.15, 1.25, 0.35) * through;
    result += glow * (sun * max(-cosSun, 0.0) + skyColour * sky.y);
  }
#endif
#ifdef GLOSS
  {
    vec3 h = normalize(sunDirection + view);
    float nh = max(dot(n, h), 0.0), a2 = rough * rough * rough * rough;
    float k = nh * nh * (a2 - 1.0) + 1.0;
    float fresnel = 0.04 + 0.96 * pow(1.0 - max(dot(view, h), 0.0), 5.0);
    result += gloss * sun * max(cosSun, 0.0) * fresnel * min(a2 / (k * k), 18.0) * 0.25;
    float rim = 0.04 + 0.4 * pow(1.0 - max(dot(n, view), 0.0), 5.0);
    result += gloss * skyColour * sky.x * rim * 0.7;
  }
#endif
  
  colour = vec4(result, 1.0);
}`;

/** Lens blur and fall-off, exposure, noise, tone curve; out comes display sRGB. */
export const exposeFragment = /* glsl */ `
in vec2 vUv;
uniform sampler2D picture; uniform float exposure; uniform vec3 blur; uniform float vignette; uniform float noise; uniform float contrast; uniform vec3 balance; uniform float seed;
out vec4 colour;
${NOISE}
void main() {
  float r = length(vUv - 0.5) * 1.414;
  vec3 sum = vec3(0.0);
  for (int j = -1; j <= 1; j++) for (int i = -1; i <= 1; i++) {
    float w = i == 0 && j == 0 ? blur.x : (i == 0 || j == 0 ? blur.y : blur.z);
    sum += w * min(texelFetch(picture, ivec2(gl_FragCoord.xy) + ivec2(i, j), 0).rgb * exposure, vec3(3.0));
  }
  vec3 c = sum * balance * (1.0 - vignette * r * r * r * r);
  vec2 at = gl_FragCoord.xy;
  vec2 two = floor(at / 2.0);
  float grain = (hash(at + seed) + hash(at * 1.7 + seed + 31.0) + hash(at.yx + seed + 77.0) - 1.5);
  vec3 chroma = vec3(hash(two + seed + 5.0), hash(two + seed + 19.0), hash(two + seed + 43.0)) - 0.5;
  c += noise * sqrt(max(c, 0.0) + 0.004) * (grain + 0.7 * chroma);
  c = max(c, 0.0);
  vec3 y = c * (1.0 + c / 2.6) / (1.0 + 0.72 * c);
  y = clamp(y, 0.0, 1.0);
  vec3 d = mix(12.92 * y, 1.055 * pow(max(y, 1e-5), vec3(1.0 / 2.4)) - 0.055, step(0.0031308, y));
  d = mix(d, d * d * (3.0 - 2.0 * d), contrast);
  float g = dot(d, vec3(0.3, 0.59, 0.11));
  colour = vec4(clamp(mix(vec3(g), d, 1.12), 0.0, 1.0), 1.0);
}`;

export const sharpenFragment = /* glsl */ `
in vec2 vUv;
uniform sampler2D picture; uniform float amount;
out vec4 colour;
void main() {
  vec3 sum = vec3(0.0);
  for (int j = -1; j <= 1; j++) for (int i = -1; i <= 1; i++) sum += texelFetch(picture, ivec2(gl_FragCoord.xy) + ivec2(i, j), 0).rgb;
  vec3 c = texture(picture, vUv).rgb;
  vec3 edge = clamp(c - sum / 9.0, vec3(-0.12), vec3(0.12));
  colour = vec4(clamp(c + amount * edge, 0.0, 1.0), 1.0);
}`;
