import { viableStand } from './assessDamage.ts';
import type { DamageNumbers, StandNumbers } from './assessment.ts';
import type { FieldNumbers } from './fieldNumbers.ts';

/**
 * The field's stand less the plants that will not live. Damage on one zone takes from that zone, weighted by its area;
 * what the judging adds to a zone's own sampling error joins the field's in quadrature.
 */
export function viableField(field: FieldNumbers, damage: readonly DamageNumbers[]): StandNumbers | null {
  const { stand } = field;
  const zoned = damage.some((entry) => entry.zone !== null && entry.viable !== null);
  if (!zoned || stand === null || field.zones.some((zone) => zone.stand === null)) {
    return viableStand(stand, damage, null);
  }
  const areaM2 = field.zones.reduce((sum, zone) => sum + zone.areaM2, 0);
  const parts = field.zones.map((zone) => {
    const whole = zone.stand!;
    return { whole, left: viableStand(whole, damage, zone.name)!, weight: zone.areaM2 / areaM2 };
  });
  const perM2 = Math.max(0, stand.perM2 - parts.reduce((sum, p) => sum + p.weight * (p.whole.perM2 - p.left.perM2), 0));
  const edge = (key: 'low' | 'high' | 'lowerBound' | 'upperBound') => {
    const sampled = stand[key];
    if (sampled === null) return null;
    const off = Math.hypot(sampled - stand.perM2, ...parts.map((part) => addedDoubt(part, key)));
    return sampled < stand.perM2 ? Math.max(0, perM2 - off) : perM2 + off;
  };
  return {
    ...stand,
    perM2,
    low: edge('low'),
    high: edge('high'),
    lowerBound: edge('lowerBound'),
    upperBound: edge('upperBound'),
    method: `${stand.method}; less the plants of hurt zones that will not live`,
  };
}

interface Part {
  readonly whole: StandNumbers;
  readonly left: StandNumbers;
  readonly weight: number;
}

function addedDoubt({ whole, left, weight }: Part, key: 'low' | 'high' | 'lowerBound' | 'upperBound'): number {
  const [judged, sampled] = [left[key], whole[key]];
  if (judged === null || sampled === null || whole.perM2 === 0) return 0;
  const fromSampling = (sampled - whole.perM2) * (left.perM2 / whole.perM2);
  return weight * Math.sqrt(Math.max(0, (judged - left.perM2) ** 2 - fromSampling ** 2));
}
