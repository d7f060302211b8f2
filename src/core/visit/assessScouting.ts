import type { ThresholdReading } from '../damage/actionThresholds.ts';
import { cutwormThreshold, rotaryHoeThreshold, salinityHarm } from '../damage/actionThresholds.ts';
import { quantityIn } from './quantity.ts';
import type { VisitDocument } from './visitSchema.ts';

/** What was met while walking against its published threshold. */
export function assessScouting(visit: VisitDocument): readonly ThresholdReading[] {
  const { cutworm, hoeLoss, salinityDsPerM } = visit.scouting ?? {};
  const lost = quantityIn(hoeLoss, 'share');
  const readings: ThresholdReading[] = [];
  if (cutworm !== undefined) {
    const found = cutwormThreshold({
      larvae: cutworm.larvae,
      rowLengthM: quantityIn(cutworm.rowLength, 'length') ?? 0,
      cutShare: quantityIn(cutworm.plantsCut, 'share'),
    });
    readings.push({ ...found, says: `cutworm ${found.reached ? 'at threshold' : 'below threshold'}: ${found.says}` });
  }
  if (lost !== null) {
    const found = rotaryHoeThreshold(lost);
    readings.push({ ...found, says: `rotary hoe${found.reached ? ', stop and set it again' : ''}: ${found.says}` });
  }
  if (salinityDsPerM !== undefined) {
    const { harm, source } = salinityHarm(salinityDsPerM);
    readings.push({ reached: harm !== 'none expected', says: `salinity ${salinityDsPerM} dS/m: ${harm}`, source });
  }
  return readings;
}
