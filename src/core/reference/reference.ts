import type { Said, SaidValues } from '../faults/said.ts';
import type { CameraStand } from '../geometry/cameraStand.ts';
import type { Homography } from '../geometry/homography.ts';
import type { Point, Vector3 } from '../geometry/point.ts';

/** What the person says lies in the photo. Lengths in metres. */
export type ReferenceRequest =
  | { readonly kind: 'auto' }
  | { readonly kind: 'tape'; readonly graduations: 'in' | 'cm' }
  | { readonly kind: 'tape'; readonly lengthM: number }
  | { readonly kind: 'rod'; readonly lengthM: number }
  | { readonly kind: 'rod'; readonly bandM: number }
  | { readonly kind: 'frame'; readonly alongM: number; readonly acrossM: number }
  | { readonly kind: 'cards' }
  | { readonly kind: 'marks'; readonly marks: readonly Reading[] }
  | { readonly kind: 'scale'; readonly mmPerPx: number };

/** A photo pixel that lies at a known reading of the reference. */
export interface Reading {
  readonly xPx: number;
  readonly yPx: number;
  readonly readingM: number;
}

/** What is known about the camera beside the picture. */
export interface CameraCues {
  /** Focal length in photo pixels, from the EXIF 35 mm equivalent; null when the file does not say. */
  readonly focalPx: number | null;
  /** Height of the camera over the soil, metres, and how loosely it is known (1 sd). */
  readonly heightM: number;
  readonly heightSdM: number;
  /** True when a person gave the height, false for the default. */
  readonly heightGiven: boolean;
  /** Unit vector of gravity in camera axes (x right, y down, z into the scene); null when not recorded. */
  readonly gravity: Vector3 | null;
  readonly rowWidthM: number | null;
}

export type Warning = Said;

/**
 * What the search along one straight reference (tape, rod, hand marks) answers: its line in the photo with readings,
 * before anything is known of the soil plane beside it.
 */
export interface FoundLine {
  readonly kind: 'tape' | 'rod' | 'marks';
  /** What hand marks lie on, where it was recognised; a strip may be flat or round. */
  readonly on?: 'tape' | 'rod' | 'strip' | 'frame';
  /** Readings spread along the line, in increasing order of reading; at least 2. */
  readonly readings: readonly (Reading & { readonly sdPx: number })[];
  /** First and last visible point of the reference, and their readings in metres. */
  readonly endsPx: readonly [Point, Point];
  readonly endsM: readonly [number, number];
  /** Whether each end is the reference's own end (true) or where it leaves the photo (false). */
  readonly endsSeen: readonly [boolean, boolean];
  /** Width of the reference in photo pixels at sample readings, if it could be measured. */
  readonly widths: readonly { readonly readingM: number; readonly widthPx: number }[];
  /** Doubt (1 sd) of how they narrow: of (last - first) / (last + first); left out where their scatter tells it. */
  readonly narrowingSd?: number;
  /** True where readings rest on its two ends alone; else they lie on the side turned to the camera (print, bands, marks). */
  readonly byEnds?: boolean;
  /** Expected error (1 sd) of a length measured end to end along the reference itself, millimetres. */
  readonly lengthErrorMm: number;
  /** Outline of what the reference covers, photo pixels. */
  readonly coveredPx: readonly (readonly Point[])[];
  readonly warnings: readonly Warning[];
}

/** The soil plane as found, with its doubt. */
export interface FoundReference {
  readonly kind: 'tape' | 'rod' | 'frame' | 'cards' | 'marks' | 'scale';
  /** What hand marks lie on, where it was recognised. */
  readonly on?: 'tape' | 'rod' | 'strip' | 'frame' | 'cards';
  readonly endsPx: readonly [Point, Point];
  readonly endsM: readonly [number, number];
  readonly photoToGround: Homography;
  /** Equally likely other planes (tilt, focal length and readings moved within their doubt): what intervals are made from. */
  readonly otherPhotoToGround: readonly Homography[];
  /** Expected error (1 sd) along the row for a point 15 cm beside the reference, millimetres over the whole stretch. */
  readonly alongErrorMm: number;
  readonly camera: CameraStand | null;
  readonly readings: readonly Reading[];
  /** What fixed the plane, in plain words, strongest first. */
  readonly cues: readonly string[];
  readonly coveredPx: readonly (readonly Point[])[];
  readonly warnings: readonly Warning[];
}

export interface NoReference {
  readonly kind: 'none';
  /** What was looked for, what was seen instead, what to do. */
  readonly reason: string;
  /** The reason's name and what it was made of, where it has one. */
  readonly code?: string;
  readonly values?: SaidValues;
  readonly warnings: readonly Warning[];
}
