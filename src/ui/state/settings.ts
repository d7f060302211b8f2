import type { LengthSystem } from '../../core/units/formatLength.ts';
import type { VisitDocument } from '../../core/visit/visitSchema.ts';

/** What this device remembers for its person. */
export interface Settings {
  readonly name: string;
  /** What that person does, such as `scout`; empty: not said. */
  readonly role: string;
  readonly units: LengthSystem;
  /** What lies beside the row, as `parseReference` reads it. */
  readonly reference: string;
  /** Readings to count between; empty: as far as the photo shows. */
  readonly from: string;
  readonly to: string;
  /** Empty: held loosely at chest height. */
  readonly cameraHeight: string;
  /** Length of row of a hand count. */
  readonly tallyLength: string;
  /** Inside diameter of the hoop, sides of the quadrat used last; empty: never used. */
  readonly hoop: string;
  readonly quadrat: readonly string[];
  /** Costs entered last, offered to the next visit. */
  readonly costs: NonNullable<VisitDocument['economics']> | null;
  /** Costs of a visit as far as they were typed: a visit holds them once enough are there. */
  readonly costsBegun: { readonly visit: string; readonly typed: Readonly<Record<string, string>> } | null;
  /** Corners of an outline that is being walked. */
  readonly walked: {
    readonly field: string;
    readonly corners: readonly (readonly [latitude: number, longitude: number])[];
    readonly isTracking: boolean;
  } | null;
}

export const FIRST_SETTINGS: Settings = {
  name: '',
  role: '',
  units: 'imperial',
  reference: 'tape:in',
  from: '',
  to: '',
  cameraHeight: '',
  tallyLength: '10 ft',
  hoop: '',
  quadrat: [],
  costs: null,
  costsBegun: null,
  walked: null,
};
