/**
 * What has to be known about a network file beside its weights: `models/<name>.json`. Lengths in millimetres, shares
 * from 0 to 1.
 */
export interface DetectorCard {
  readonly name: string;
  /** File name of the network beside the card, and its SHA-256 in hexadecimal. */
  readonly file: string;
  readonly sha256: string;
  /** Scale of the strip that the network sees. */
  readonly inputMmPerPx: number;
  /** Scale of the pixels in which it answers. */
  readonly mmPerPx: number;
  /** Sides of its input must be multiples of this many of its pixels. */
  readonly sideMultiple: number;
  /** Pixels of the answers per output cell. */
  readonly stride: number;
  /** Peaks of the crown map below this are not looked at. */
  readonly floor: number;
  /** The score from which a peak is called a plant, chosen on held-out scenes for the best F1. */
  readonly threshold: number;
  /** Two peaks nearer than this are one plant. */
  readonly suppressMm: number;
  /**
   * Score of a peak to the chance that it is a plant, measured on held-out scenes: rising pairs (score, chance),
   * straight lines between them.
   */
  readonly calibration: readonly (readonly [number, number])[];
  /** Standard deviation of the base, straight down, and its growth per unit of the tangent of the viewing angle. */
  readonly baseSdMm: number;
  readonly baseSdMmPerTangent: number;
}
