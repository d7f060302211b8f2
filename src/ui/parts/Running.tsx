import type { Assessment } from '../../core/visit/assessment.ts';
import { phrasingFor } from '../../core/visit/phrasing.ts';
import { BigNumber } from './BigNumber.tsx';
import { plural } from './plural.ts';
import { StandRule } from './StandRule.tsx';
import { unbroken } from './unbroken.ts';

/** The running answer: mean, interval, share of the target, and whether the spots are enough. */
export function Running({ assessment: a }: { assessment: Assessment }) {
  const say = phrasingFor(a.visit.units, a.visit.currency);
  const { stand, target, moreSpots, stopping } = a;
  if (stand === null) {
    return <p class="quiet">Target {unbroken(`${say.plants(target.perM2)} (${target.says})`)}</p>;
  }
  return (
    <section class="running" aria-live="polite">
      <BigNumber says={say.plants(stand.perM2)} />
      <p>
        {stand.low === null || stand.high === null
          ? `no interval from ${plural(stand.spots, 'spot')}`
          : unbroken(
              `${say.plantsRange(stand.low, stand.high)} at ${Math.round(stand.level * 100)} %, ${plural(stand.spots, 'spot')}`,
            )}
      </p>
      <StandRule assessment={a} />
      <p>
        <strong>{unbroken(`${Math.round((stand.perM2 / target.perM2) * 100)} %`)}</strong> of the target,{' '}
        {unbroken(say.plants(target.perM2))}
      </p>
      <p class="enough">
        {moreSpots > 0 ? (
          <>
            <strong>{unbroken(plural(moreSpots, 'more spot'))}</strong>: {unbroken(stopping.join('; '))}
          </>
        ) : (
          <>
            <strong>Enough spots</strong>: {unbroken(stopping.join('; '))}
          </>
        )}
      </p>
    </section>
  );
}
