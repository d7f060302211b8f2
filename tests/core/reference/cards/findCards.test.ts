import { describe, expect, it } from 'vitest';
import { type Camera, projectPoint, upInCamera } from '../../../../src/core/geometry/camera.ts';
import { applyHomography } from '../../../../src/core/geometry/homography.ts';
import { times } from '../../../../src/core/geometry/vector.ts';
import { MARKER_CELLS, MARKER_SIDE_M, markerCells } from '../../../../src/core/reference/cards/cardDesign.ts';
import { detectMarkers } from '../../../../src/core/reference/cards/detectMarkers.ts';
import { findCards } from '../../../../src/core/reference/cards/findCards.ts';
import { refineCorners } from '../../../../src/core/reference/cards/refineCorners.ts';
import type { CameraCues, FoundReference } from '../../../../src/core/reference/reference.ts';
import { seeded } from '../../../support/drawLineScene.ts';
import { groundPicture, lookingAt } from '../../../support/groundScene.ts';
import { usualCues } from '../../../support/usualCues.ts';

const SIZE = { widthPx: 1300, heightPx: 600, focalPx: 960 };
const cues = usualCues(SIZE.focalPx);
const side = lookingAt([0.95, -1.35, 1.45], [0.9, 0, 0], SIZE, 0.02);

interface Laid {
  readonly id: number;
  readonly alongM: number;
  readonly acrossM: number;
  readonly turn: number;
}

/** Cards drawn from the code table on bare soil, A4 paper around each. */
function scene(
  camera: Camera,
  cards: readonly Laid[],
  over: (along: number, across: number) => number | null = () => null,
  ink = 0.03,
) {
  const drawn = cards.map((card) => ({
    ...card,
    cells: markerCells(card.id),
    c: Math.cos(card.turn),
    s: Math.sin(card.turn),
  }));
  return groundPicture(camera, SIZE.widthPx, SIZE.heightPx, (along, across) => {
    const above = over(along, across);
    if (above !== null) return above;
    for (const { cells, alongM, acrossM, c, s } of drawn) {
      const [dx, dy] = [along - alongM, across - acrossM];
      const [x, y] = [dx * c + dy * s, -dx * s + dy * c];
      if (Math.abs(x) > 0.105 || Math.abs(y) > 0.1485) continue;
      const column = Math.floor((x / MARKER_SIDE_M + 0.5) * MARKER_CELLS);
      const row = Math.floor((0.5 - y / MARKER_SIDE_M) * MARKER_CELLS);
      const inside = column >= 0 && row >= 0 && column < MARKER_CELLS && row < MARKER_CELLS;
      return inside && !cells[row]![column] ? ink : 0.8;
    }
    return null;
  });
}

const two: readonly Laid[] = [
  { id: 0, alongM: 0, acrossM: 0, turn: 0.3 },
  { id: 1, alongM: 1.8, acrossM: 0, turn: -1.9 },
];

const plain = scene(side, two);

function cornersOf(camera: Camera, { alongM, acrossM, turn }: Laid) {
  const h = MARKER_SIDE_M / 2;
  return [
    [-h, h],
    [h, h],
    [h, -h],
    [-h, -h],
  ].map(([x, y]) => {
    const [dx, dy] = [x! * Math.cos(turn) - y! * Math.sin(turn), x! * Math.sin(turn) + y! * Math.cos(turn)];
    return projectPoint(camera, [alongM + dx, acrossM + dy, 0]);
  });
}

function found(photo: ReturnType<typeof scene>, given: CameraCues = cues): FoundReference {
  const result = findCards(photo, given);
  if (result.kind === 'none') throw new Error(result.reason);
  return result;
}

describe('marker cards', () => {
  it('has the code table of the open family', () => {
    // ARUCO_MIP_36h12, first code 0xd2b63a09d, as published with the ArUco library (table of js-aruco2 2.0.0).
    const bits = markerCells(0)
      .slice(1, 7)
      .flatMap((row) => row.slice(1, 7));
    expect(BigInt(`0b${bits.map((white) => (white ? 1 : 0)).join('')}`)).toBe(0xd2b63a09dn);
    expect(() => markerCells(9)).toThrow(RangeError);
  });

  it('finds both cards whichever way they lie, corners to a fifth of a pixel', () => {
    const markers = detectMarkers(plain);
    expect(markers.map((m) => m.id).sort()).toEqual([0, 1]);
    for (const marker of markers) {
      const refined = refineCorners(plain, marker)!;
      const truth = cornersOf(side, two[marker.id]!);
      for (const [k, corner] of refined.corners.entries()) {
        expect(Math.hypot(corner[0] - truth[k]![0], corner[1] - truth[k]![1])).toBeLessThan(0.2);
      }
    }
  });

  it('measures how far apart they lie and where plants beside them stand, to 1 % without further cues', () => {
    const reference = found(plain);
    expect(reference.endsM[1] / 1.8).toBeCloseTo(1, 2);
    for (const [m, across] of [
      [0.1, 0.15],
      [0.9, -0.15],
      [1.7, 0.1],
    ] as const) {
      const [a, c] = applyHomography(reference.photoToGround, projectPoint(side, [m, across, 0]));
      expect(Math.abs(a - m)).toBeLessThan(0.018);
      expect(Math.abs(c - across)).toBeLessThan(0.018);
    }
    expect(reference.warnings).toEqual([]);
    expect(Math.abs(reference.endsM[1] - 1.8) * 1000).toBeLessThan(2 * reference.alongErrorMm);
  });

  it('tells the focal length itself when the file does not, less surely', () => {
    const known = found(plain);
    const unknown = found(plain, { ...cues, focalPx: null });
    expect(unknown.alongErrorMm).toBeGreaterThan(known.alongErrorMm);
    expect(Math.abs(unknown.endsM[1] - 1.8) * 1000).toBeLessThan(3 * unknown.alongErrorMm);
  });

  it('still sees a card with a straw across its border', () => {
    const straw = (along: number, across: number) =>
      Math.abs(across - 0.035 - 0.4 * along) < 0.0025 && Math.abs(along) < 0.2 ? 0.35 : null;
    const reference = found(scene(side, two, straw));
    expect(reference.warnings.map((w) => w.code)).not.toContain('one-card');
    expect(Math.abs(reference.endsM[1] / 1.8 - 1)).toBeLessThan(0.01);
  });

  it.each([1, 2, 3])('keeps corners to a fifth of a pixel with dirt on a third of the edges: strewn %i', (seed) => {
    const random = seeded(seed);
    const half = MARKER_SIDE_M / 2;
    const specks = Array.from({ length: 7 }, () => {
      const [along, off, side] = [(random() - 0.5) * MARKER_SIDE_M, 0.012 * (random() - 0.5), Math.floor(4 * random())];
      const at = side < 2 ? [along, (side === 0 ? half : -half) + off] : [(side === 2 ? half : -half) + off, along];
      return { x: at[0]!, y: at[1]!, radius: 0.006 + 0.01 * random(), light: 0.1 + 0.25 * random() };
    });
    const card = { id: 0, alongM: 0, acrossM: 0, turn: 0 };
    const near = lookingAt([0.2, -0.6, 0.8], [0.3, 0.02, 0], SIZE, 0.02);
    const dirty = scene(
      near,
      [card],
      (x, y) => specks.find((d) => Math.hypot(x - d.x, y - d.y) < d.radius)?.light ?? null,
    );
    const refined = refineCorners(dirty, detectMarkers(dirty)[0]!)!;
    const truth = cornersOf(near, card);
    for (const [k, corner] of refined.corners.entries()) {
      expect(Math.hypot(corner[0] - truth[k]![0], corner[1] - truth[k]![1])).toBeLessThan(0.2);
    }
  });

  it('reads a weak print: black that gives back 25 % of the light against paper of 80 %', () => {
    const reference = found(scene(side, two, undefined, 0.25));
    expect(reference.warnings.map((w) => w.code)).not.toContain('one-card');
    expect(Math.abs(reference.endsM[1] / 1.8 - 1)).toBeLessThan(0.005);
  });

  it('sees a card though a leaf hangs over its corner and side', () => {
    const [, corner, , opposite] = cornersOf(side, two[1]!);
    const [x, y] = [0, 1].map((i) => 1.1 * corner![i]! - 0.1 * opposite![i]!) as [number, number];
    const data = plain.data.slice();
    for (let i = 0; i < data.length; i += 4) {
      const [dx, dy] = [((i / 4) % plain.widthPx) - x, Math.floor(i / 4 / plain.widthPx) - y];
      // a bean leaf in sun: green, and half as bright as the paper
      if ((dx / 26) ** 2 + (dy / 14) ** 2 < 1) data.set([70, 118, 48], i);
    }
    const reference = found({ ...plain, data });
    expect(reference.warnings.map((w) => w.code)).not.toContain('one-card');
    expect(Math.abs(reference.endsM[1] / 1.8 - 1)).toBeLessThan(0.005);
  });

  it('reads a card though the photo ends right beside its black square', () => {
    const rightMost = Math.max(...cornersOf(side, two[1]!).map(([x]) => x));
    const widthPx = Math.ceil(rightMost) + 3;
    const cut = { widthPx, heightPx: SIZE.heightPx, data: new Uint8Array(4 * widthPx * SIZE.heightPx) };
    for (let y = 0; y < SIZE.heightPx; y++) {
      const row = plain.data.subarray(4 * y * SIZE.widthPx, 4 * (y * SIZE.widthPx + widthPx));
      cut.data.set(row, 4 * y * widthPx);
    }
    const seen = detectMarkers(cut);
    expect(seen.map((m) => m.id).sort()).toEqual([0, 1]);
  });

  it('uses one card roughly, and says so', () => {
    const reference = found(scene(side, two.slice(0, 1)), { ...cues, gravity: times(upInCamera(side), -1) });
    expect(reference.warnings.map((w) => w.code)).toContain('one-card');
    expect(reference.camera!.heightM).toBeGreaterThan(1.3);
    expect(reference.camera!.heightM).toBeLessThan(1.6);
  });

  it('measures along the row beside a lone card, however the card lies', () => {
    const gravity = times(upInCamera(side), -1);
    for (const turn of [0, 0.5, -1.9]) {
      const photo = withGreenRow(scene(side, [{ id: 0, alongM: 0.9, acrossM: 0, turn }]), 0.3);
      const reference = found(photo, { ...cues, gravity });
      const [[x0, y0], [x1, y1]] = [
        [0.5, 0.3],
        [1.3, 0.3],
      ].map(([along, across]) => applyHomography(reference.photoToGround, projectPoint(side, [along!, across!, 0])));
      // The row runs along the axis, to 2 degrees, and its 80 cm are read to 5 %, as rough as one card is said to be.
      expect(Math.abs(Math.atan2(y1! - y0!, x1! - x0!))).toBeLessThan(0.035);
      expect(Math.abs((x1! - x0!) / 0.8 - 1)).toBeLessThan(0.05);
      expect(reference.warnings.find((w) => w.code === 'one-card')!.message).toContain('along the row beside it');
    }
  });

  it('refuses a number that lies there twice, and bare soil, with what to do', () => {
    const twice = findCards(scene(side, [two[0]!, { ...two[1]!, id: 0 }]), cues);
    expect(twice).toMatchObject({ kind: 'none', reason: expect.stringContaining('twice') });
    const bare = findCards(scene(side, []), cues);
    expect(bare).toMatchObject({ kind: 'none', reason: expect.stringContaining('no marker card') });
  });

  it('doubts a focal length that does not fit the cards', () => {
    const reference = found(plain, { ...cues, focalPx: SIZE.focalPx * 1.6 });
    expect(reference.warnings.map((w) => w.code)).toContain('focal-contradicts');
    expect(Math.abs(reference.endsM[1] - 1.8) * 1000).toBeLessThan(3 * reference.alongErrorMm);
  });

  it('is not led astray by white paper that outshines the sensor', () => {
    // Everything is three times as bright and cut at white, so that blurred edges move into the black.
    const bright = { ...plain, data: plain.data.map((v, i) => (i % 4 === 3 ? v : overexposed(v))) };
    const lengthOf = (photo: typeof plain) => found(photo).endsM[1];
    expect(Math.abs(lengthOf(bright) / 1.8 - 1)).toBeLessThan(0.005);
  });
});

/** An sRGB value at three times the light, cut at white. */
/** The same picture with a row of green plants 7 cm wide along `acrossM`, every 9 cm. */
function withGreenRow(photo: ReturnType<typeof scene>, acrossM: number): ReturnType<typeof scene> {
  const data = photo.data.slice();
  for (let plant = -1; plant < 3; plant += 0.09) {
    const [cx, cy] = projectPoint(side, [plant, acrossM, 0]);
    const [ex, ey] = projectPoint(side, [plant + 0.035, acrossM, 0]);
    const radius = Math.hypot(ex - cx, ey - cy);
    for (let y = Math.max(0, Math.ceil(cy - radius / 2)); y <= Math.min(SIZE.heightPx - 1, cy + radius / 2); y++) {
      for (let x = Math.max(0, Math.ceil(cx - radius)); x <= Math.min(SIZE.widthPx - 1, cx + radius); x++) {
        data.set([70, 130, 50], 4 * (y * SIZE.widthPx + x));
      }
    }
  }
  return { ...photo, data };
}

function overexposed(value: number): number {
  const c = value / 255;
  const light = Math.min(1, 3 * (c <= 0.04045 ? c / 12.92 : ((c + 0.055) / 1.055) ** 2.4));
  return Math.round(255 * (light <= 0.0031308 ? 12.92 * light : 1.055 * light ** (1 / 2.4) - 0.055));
}
