import type { LengthSystem } from '../../core/units/formatLength.ts';

/** What this device remembers for its person. */
export interface Settings {
  readonly name: string;
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
}

export const FIRST_SETTINGS: Settings = {
  name: '',
  units: 'imperial',
  reference: 'tape:in',
  from: '',
  to: '',
  cameraHeight: '',
  tallyLength: '10 ft',
};
