import {
  above,
  cotyledons,
  crop,
  downTheRow,
  FOOT_M,
  frame,
  fromTheSide,
  hooks,
  INCH_M,
  light,
  scene,
  second,
  soil,
  tape,
  trifoliate,
  weeds,
} from './presets.ts';
import type { SceneSpec } from './spec.ts';

const tenFeet = { fromM: 0, toM: 10 * FOOT_M };
const sixFeet = { fromM: 0, toM: 6 * FOOT_M };

/** The scenes of sample-images: every kind of reference, view, light, soil and stage, and what makes counting hard. */
export const CATALOGUE: readonly SceneSpec[] = [
  scene(
    {
      name: 'down-tape-inch',
      seed: 101,
      camera: above(2.02, 1.9),
      reference: tape({ toM: 6.2 * FOOT_M }),
      stretch: sixFeet,
    },
    { stretchAsked: '0ft..6ft', light: light({ sunElevationDeg: 62, sunAzimuthDeg: 130 }) },
  ),
  scene(
    {
      name: 'side-tape-inch',
      seed: 102,
      camera: fromTheSide(10 * FOOT_M),
      reference: tape({ toM: 10.4 * FOOT_M }),
      stretch: tenFeet,
    },
    { stretchAsked: '0ft..10ft', light: light({ sunElevationDeg: 42, sunAzimuthDeg: 200 }), askCameraHeight: true },
  ),
  scene(
    {
      name: 'side-cards',
      seed: 103,
      camera: fromTheSide(2.8, { aimAlongM: 1.35, standAlongM: 1.4 }),
      reference: { kind: 'cards', apartM: 2.7, paper: 'Letter' },
      stretch: { fromM: 0, toM: 2.7 },
    },
    {
      rowAcrossM: 0.16,
      light: light({ sky: 'hazy', sunElevationDeg: 50, sunAzimuthDeg: 310 }),
      soil: soil({ tone: 'pale-dry', surface: 'crust' }),
      orientation: 3,
    },
  ),
  scene(
    {
      name: 'along-tape-cm',
      seed: 104,
      camera: downTheRow(),
      reference: tape({ unit: 'cm', ground: 'white', widthM: 0.02, toM: 3, hook: false }),
      stretch: { fromM: 0, toM: 2.5 },
    },
    {
      stretchAsked: '0m..2.5m',
      crop: crop({ rowWidthM: 0.5, seedSpacingM: 0.09 }),
      light: light({ sunElevationDeg: 35, sunAzimuthDeg: 240 }),
    },
  ),
  scene(
    {
      name: 'down-frame',
      seed: 105,
      camera: above(1.35, 1, { heightM: 1.25, aimAcrossM: 0.25, standAcrossM: 0.12 }),
      reference: frame({}),
      stretch: { fromM: 0, toM: 1 },
    },
    {
      rowAcrossM: 0.24,
      light: light({ sky: 'overcast' }),
      soil: soil({ tone: 'grey', surface: 'cracked' }),
      crop: crop({ rowWidthM: 15 * INCH_M, seedSpacingM: 0.076 }),
    },
  ),
  scene(
    {
      name: 'down-tape-cm-dark',
      seed: 106,
      camera: above(2.1, 2),
      reference: tape({ unit: 'cm', ground: 'wood', widthM: 0.017, toM: 2.03, hook: false }),
      stretch: { fromM: 0, toM: 2 },
    },
    {
      stretchAsked: '0m..2m',
      light: light({ sky: 'overcast' }),
      soil: soil({ tone: 'dark-wet', surface: 'cloddy', relief: 0.7 }),
      crop: crop({ stages: trifoliate, rowWidthM: 0.75 }),
      orientation: 6,
    },
  ),
  scene(
    {
      name: 'side-rod-banded',
      seed: 107,
      camera: fromTheSide(2.3, { aimAlongM: 0.92, standAlongM: 1, standAcrossM: -1.7 }),
      reference: {
        kind: 'rod',
        lengthM: 6 * FOOT_M,
        radiusM: 0.012,
        paint: 'red-white',
        bandM: FOOT_M,
        ask: 'banded:1ft',
      },
      stretch: sixFeet,
    },
    {
      light: light({ sunElevationDeg: 20, sunAzimuthDeg: 150 }),
      soil: soil({ tone: 'red-brown', surface: 'crust', wheelTrack: true }),
      weeds: weeds({ offRowPerM2: 2 }),
      holdOut: true,
    },
  ),
  scene(
    {
      name: 'side-rod-plain-bright',
      seed: 108,
      camera: fromTheSide(2.3, { aimAlongM: 0.92, standAlongM: 0.8, standAcrossM: -1.75, focal35: 27 }),
      reference: { kind: 'rod', lengthM: 6 * FOOT_M, radiusM: 0.01, paint: 'aluminium', bandM: null, ask: '6ft' },
      stretch: sixFeet,
    },
    {
      light: light({ sunElevationDeg: 64, sunAzimuthDeg: 80, exposureStops: 0.75 }),
      soil: soil({ tone: 'pale-dry', surface: 'crumb' }),
      crop: crop({ yellowing: 0.3, dust: 0.3 }),
      hard: true,
    },
  ),
  scene(
    {
      name: 'down-cards-residue',
      seed: 109,
      camera: above(2.0, 1.5, { aimAcrossM: 0.1 }),
      reference: { kind: 'cards', apartM: 1.5, paper: 'A4' },
      stretch: { fromM: 0, toM: 1.5 },
    },
    {
      rowAcrossM: 0.17,
      light: light({ sky: 'overcast' }),
      soil: soil({ tone: 'brown', surface: 'crumb', residuePerM2: 220 }),
      crop: crop({ stages: cotyledons, seedSpacingM: 0.076 }),
      holdOut: true,
      hard: true,
    },
  ),
  scene(
    {
      name: 'side-tape-10ft-weeds',
      seed: 110,
      camera: fromTheSide(3.1, { aimAlongM: 1.52, standAlongM: 1.6 }),
      reference: tape({ ground: 'wood', widthM: 0.03, hook: false, ask: '10ft' }),
      stretch: tenFeet,
    },
    {
      weeds: weeds({ offRowPerM2: 9, onRowPerM: 2.5 }),
      light: light({ sunElevationDeg: 55, sunAzimuthDeg: 20 }),
      soil: soil({ tone: 'brown', surface: 'cloddy' }),
      askCameraHeight: true,
      hard: true,
    },
  ),
  scene(
    {
      name: 'side-gap-60cm',
      seed: 111,
      camera: fromTheSide(10 * FOOT_M, { focal35: 25, faces: -1 }),
      reference: tape({ ground: 'white', widthM: 0.019, toM: 12 * FOOT_M, hook: true }),
      stretch: tenFeet,
    },
    {
      stretchAsked: '0ft..10ft',
      rowAcrossM: -0.09,
      crop: crop({ stages: cotyledons, bare: [[1.5, 2.1]], missShare: 0.2 }),
      light: light({ sky: 'overcast' }),
      soil: soil({ tone: 'grey', surface: 'crumb', relief: 0.9 }),
      askGravity: true,
    },
  ),
  scene(
    {
      name: 'down-hook',
      seed: 112,
      camera: above(1.6, 1.5),
      reference: tape({ unit: 'cm', widthM: 0.0125, toM: 1.6 }),
      stretch: { fromM: 0, toM: 1.5 },
    },
    {
      stretchAsked: '0m..1.5m',
      crop: crop({ stages: hooks, seedSpacingM: 0.064, rowWidthM: 0.5 }),
      light: light({ sunElevationDeg: 45, sunAzimuthDeg: 100 }),
      soil: soil({ tone: 'pale-dry', surface: 'cracked' }),
      hard: true,
    },
  ),
  scene(
    {
      name: 'down-doubles',
      seed: 113,
      camera: above(1.75, 1.6, { focal35: 24 }),
      reference: tape({ toM: 5.6 * FOOT_M, widthM: 0.019, case: true }),
      stretch: { fromM: 0, toM: 5 * FOOT_M },
    },
    {
      stretchAsked: '0ft..5ft',
      crop: crop({ stages: trifoliate, seedSpacingM: 0.076, doubleShare: 0.22, missShare: 0.1 }),
      light: light({ sunElevationDeg: 50, sunAzimuthDeg: 290 }),
      soil: soil({ tone: 'red-brown', surface: 'crumb' }),
      orientation: 8,
      hard: true,
    },
  ),
  scene(
    {
      name: 'down-rod-tattered',
      seed: 114,
      camera: above(1.7, 1.5, { focal35: 28 }),
      reference: { kind: 'rod', lengthM: 1.5, radiusM: 0.009, paint: 'black-white', bandM: 0.1, ask: 'banded:10cm' },
      stretch: { fromM: 0, toM: 1.5 },
    },
    {
      crop: crop({ tatter: 0.75, yellowing: 0.2 }),
      light: light({ sky: 'hazy', sunElevationDeg: 40, sunAzimuthDeg: 350 }),
      soil: soil({ tone: 'dark-wet', surface: 'crust' }),
      holdOut: true,
      hard: true,
    },
  ),
  scene(
    {
      name: 'side-two-tapes',
      seed: 115,
      camera: fromTheSide(10 * FOOT_M, { rollDeg: 2.2 }),
      reference: tape({ toM: 10.2 * FOOT_M, case: true }),
      stretch: tenFeet,
    },
    {
      stretchAsked: '0ft..10ft',
      extras: ['second-tape'],
      light: light({ sunElevationDeg: 33, sunAzimuthDeg: 60 }),
      soil: soil({ tone: 'brown', surface: 'crust' }),
      crop: crop({ seedSpacingM: 0.127 }),
      holdOut: true,
    },
  ),
  scene(
    {
      name: 'side-hose-no-reference',
      seed: 116,
      camera: fromTheSide(3),
      reference: { kind: 'none' },
      stretch: { fromM: 0, toM: 3 },
    },
    {
      extras: ['hose'],
      light: light({ sunElevationDeg: 58, sunAzimuthDeg: 170 }),
      soil: soil({ tone: 'grey', surface: 'crumb' }),
      hard: true,
    },
  ),
  scene(
    {
      name: 'side-empty-row',
      seed: 117,
      camera: fromTheSide(10 * FOOT_M),
      reference: tape({ toM: 10.3 * FOOT_M, ground: 'white' }),
      stretch: tenFeet,
    },
    {
      stretchAsked: '0ft..10ft',
      crop: crop({ bare: [[-9, 12]] }),
      weeds: weeds({ offRowPerM2: 1.5, grassShare: 0.5 }),
      light: light({ sky: 'hazy', sunElevationDeg: 45, sunAzimuthDeg: 250 }),
      soil: soil({ tone: 'pale-dry', surface: 'crust', stonesPerM2: 14 }),
    },
  ),
  scene(
    {
      name: 'along-cards',
      seed: 118,
      camera: downTheRow({ standAcrossM: 0.03, aimAcrossM: 0.1 }),
      reference: { kind: 'cards', apartM: 2.2, paper: 'A4' },
      stretch: { fromM: 0, toM: 2.2 },
    },
    {
      rowAcrossM: 0.17,
      light: light({ sky: 'hazy', sunElevationDeg: 48, sunAzimuthDeg: 120 }),
      crop: crop({ rowWidthM: 22 * INCH_M, seedSpacingM: 0.102 }),
      soil: soil({ surface: 'cloddy', tone: 'brown' }),
      orientation: 1,
      holdOut: true,
    },
  ),
  scene(
    {
      name: 'down-shadow-tape-cm',
      seed: 119,
      camera: above(2.1, 2),
      reference: tape({ unit: 'cm', ground: 'yellow', widthM: 0.027, toM: 2.6 }),
      stretch: { fromM: 0, toM: 2 },
    },
    {
      stretchAsked: '0m..2m',
      light: light({ sunElevationDeg: 24, sunAzimuthDeg: 285, photographerShadow: true }),
      soil: soil({ tone: 'brown', surface: 'cracked', relief: 0.7 }),
      crop: crop({ seedSpacingM: 0.102, rowWidthM: 0.75 }),
      holdOut: true,
      hard: true,
    },
  ),
  scene(
    {
      name: 'side-tape-2m-residue',
      seed: 120,
      camera: fromTheSide(2.3, { aimAlongM: 1, standAlongM: 1.1, standAcrossM: -1.75 }),
      reference: tape({ unit: 'cm', ground: 'wood', widthM: 0.024, toM: 2, hook: false, ask: '2m' }),
      stretch: { fromM: 0, toM: 2 },
    },
    {
      crop: crop({ stages: second, seedSpacingM: 0.127, rowWidthM: 0.75 }),
      soil: soil({ tone: 'dark-wet', surface: 'crumb', residuePerM2: 160 }),
      light: light({ sunElevationDeg: 38, sunAzimuthDeg: 330 }),
      hard: true,
    },
  ),
  scene(
    {
      name: 'along-tape-inch',
      seed: 121,
      camera: downTheRow({ focal35: 24, standAcrossM: 0 }),
      reference: tape({ toM: 9 * FOOT_M, widthM: 0.03, case: true }),
      stretch: { fromM: 0, toM: 8 * FOOT_M },
    },
    {
      stretchAsked: '0ft..8ft',
      light: light({ sunElevationDeg: 19, sunAzimuthDeg: 80 }),
      soil: soil({ tone: 'red-brown', surface: 'crust', wheelTrack: true }),
      weeds: weeds({ offRowPerM2: 2, onRowPerM: 0.5 }),
      askGravity: true,
      orientation: 8,
    },
  ),
  scene(
    {
      name: 'down-frame-weedy',
      seed: 122,
      camera: above(1.3, 1, { heightM: 1.3, focal35: 28, aimAcrossM: 0.25, standAcrossM: 0.2, rollDeg: -2 }),
      reference: frame({ paint: 'aluminium', tubeM: 0.014 }),
      stretch: { fromM: 0, toM: 1 },
    },
    {
      rowAcrossM: 0.26,
      weeds: weeds({ offRowPerM2: 60, onRowPerM: 9, grassShare: 0.35 }),
      light: light({ sunElevationDeg: 57, sunAzimuthDeg: 215 }),
      soil: soil({ tone: 'brown', surface: 'crumb', furrowDepthM: 0.012 }),
      hard: true,
    },
  ),
];
