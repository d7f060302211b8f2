import { square } from '../statistics/square.ts';
import { decodeHeatmaps } from './decodeHeatmaps.ts';
import type { DetectorCard } from './detectorCard.ts';
import type { ModelTensor } from './modelRunner.ts';

/**
 * How well the network's answer speaks for the scale it was asked at: the sum of the squared scores of its peaks called
 * plant. Squares, so that few sharp peaks outweigh many faint ones: leaves shown too large give many of those.
 */
export function mapSupport(maps: ModelTensor, card: Pick<DetectorCard, 'stride' | 'floor' | 'threshold'>): number {
  return decodeHeatmaps(maps, card)
    .filter(({ score, weedScore }) => score >= card.threshold && score > weedScore)
    .reduce((sum, { score }) => sum + square(score), 0);
}
