import type { Source } from '../sources/source.ts';
import type { DensityUnit } from '../units/density.ts';
import type { GrowthHabit } from './growthHabit.ts';
import type { SeedGroup } from './marketClass.ts';

/** Whom a row of the table is for: a class by its plain name, all classes of a seed group, or every dry bean. */
export type TargetAudience =
  | { readonly marketClass: string }
  | { readonly seedGroup: SeedGroup }
  | { readonly all: 'dry beans' };

/** One line of a table of target populations, in the unit it was printed in. */
export interface TargetRow {
  /** Stable name, by which an organisation changes or removes the row. */
  readonly id: string;
  /** The table or region the row belongs to; rows of different sets are never mixed. */
  readonly set: string;
  readonly audience: TargetAudience;
  /** Null: said of every habit. */
  readonly habit: GrowthHabit | null;
  /** Row widths the row is for, metres, both ends included; null: said of every width. */
  readonly rowWidthM: { readonly from: number; readonly to: number } | null;
  /** Plants that stand, or seeds that are planted. */
  readonly of: 'plants' | 'seeds';
  readonly low: number;
  readonly high: number;
  /** What the table calls ideal, where it says so; otherwise the middle is aimed at. */
  readonly ideal?: number;
  readonly unit: DensityUnit;
  readonly source: Source;
}
