import type { CountOptions } from '../../core/count/countOptions.ts';
import { DEFAULT_COUNT_OPTIONS } from '../../core/count/countOptions.ts';
import { good, type Outcome } from '../../core/faults/outcome.ts';
import type { Vector3 } from '../../core/geometry/point.ts';
import { parseReference } from '../../core/reference/parseReference.ts';
import { parseLength } from '../../core/units/parseLength.ts';
import { quantityIn } from '../../core/visit/quantity.ts';
import type { VisitDocument } from '../../core/visit/visitSchema.ts';
import type { Settings } from '../state/settings.ts';

/** A height that a person gives is good to about this share of it, and never better than 3 cm (1 sd), as on the command line. */
const GIVEN_HEIGHT_SHARE = 0.04;
const GIVEN_HEIGHT_LEAST_SD_M = 0.03;

/** What is known of a photo of this visit, as the count takes it; what was typed wrong is told with the field's name. */
export function photoOptions(
  typed: Pick<Settings, 'reference' | 'from' | 'to' | 'cameraHeight'>,
  planting: VisitDocument['planting'],
  gravity: Vector3 | null,
): Outcome<CountOptions> {
  const reference = parseReference(typed.reference);
  if (!reference.ok) return reference;
  let stretch: CountOptions['stretch'] = null;
  if (typed.to.trim() !== '') {
    const from = parseLength(typed.from.trim() === '' ? '0 m' : typed.from);
    const to = parseLength(typed.to);
    if (!from.ok) return { ...from, found: `count from: ${from.found}` };
    if (!to.ok) return { ...to, found: `count to: ${to.found}` };
    if (to.value > from.value) stretch = { fromM: from.value, toM: to.value };
  }
  let cameraHeight = DEFAULT_COUNT_OPTIONS.cameraHeight as CountOptions['cameraHeight'];
  if (typed.cameraHeight.trim() !== '') {
    const height = parseLength(typed.cameraHeight);
    if (!height.ok) return { ...height, found: `camera height: ${height.found}` };
    const sdM = Math.max(GIVEN_HEIGHT_LEAST_SD_M, GIVEN_HEIGHT_SHARE * height.value);
    cameraHeight = { heightM: height.value, sdM, given: true };
  }
  return good({
    ...DEFAULT_COUNT_OPTIONS,
    reference: reference.value,
    stretch,
    cameraHeight,
    gravity,
    rowWidthM: quantityIn(planting.rowWidth, 'length'),
    seedSpacingM: quantityIn(planting.seedSpacing, 'length'),
  });
}
