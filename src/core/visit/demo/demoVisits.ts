import type { VisitDocument } from '../visitSchema.ts';
import { churchCorner } from './churchCorner.ts';
import { knollQuarter } from './knollQuarter.ts';
import { lowerBench } from './lowerBench.ts';
import { riverEighty } from './riverEighty.ts';
import { schoolSection } from './schoolSection.ts';
import { upperTerrace } from './upperTerrace.ts';
import { windmillEighty } from './windmillEighty.ts';

/** The demonstration season of Alder Flat Farm, an invented place: every verdict comes up at least once. */
export const DEMO_VISITS: readonly VisitDocument[] = [
  windmillEighty,
  lowerBench,
  schoolSection,
  riverEighty,
  knollQuarter,
  churchCorner,
  upperTerrace,
];
