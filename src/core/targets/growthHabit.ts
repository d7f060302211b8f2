/** Growth habit of a bean plant: I determinate bush, II upright short vine, III prostrate vine. */
export type GrowthHabit = 'I' | 'II' | 'III';
