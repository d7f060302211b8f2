/** One spot of a field as sampling sees it. */
export interface FieldSpot {
  readonly id: string;
  readonly plants: number;
  /** Ground counted at the spot, square metres. */
  readonly areaM2: number;
  /** Zone the spot lies in, where zones are told apart. */
  readonly zoneId?: string;
}

/** A part of the field that is known to differ: a knoll, a headland, low ground. */
export interface FieldZone {
  readonly id: string;
  readonly areaM2: number;
}

export function densityOf(spot: FieldSpot): number {
  return spot.plants / spot.areaM2;
}
