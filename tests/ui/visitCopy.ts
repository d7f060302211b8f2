import type { Json } from '../../src/core/sync/json.ts';
import { DEMO_VISITS } from '../../src/core/visit/demo/demoVisits.ts';

/** A demonstration visit by its field's name, as a document of its own. */
export function demoVisitCopy(field: string): Json {
  const visit = DEMO_VISITS.find((one) => one.field.name === field);
  if (visit === undefined) throw new Error(`no demonstration field "${field}"`);
  return structuredClone(visit) as unknown as Json;
}
