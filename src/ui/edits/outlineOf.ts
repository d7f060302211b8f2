import type { Row } from '../../browser/store/storeTypes.ts';
import type { Position } from '../../core/sampling/randomPoints.ts';
import { isJsonObject } from '../../core/sync/json.ts';
import type { VisitDocument } from '../../core/visit/visitSchema.ts';

/** The outline a visit walks by: the field's own as it stands now, else the one the visit took along; null: none. */
export function outlineOf(rows: readonly Row[], visit: VisitDocument): readonly Position[] | null {
  const row = rows.find((one) => one.kind === 'field' && one.thing === visit.field.id);
  const own = isJsonObject(row?.brief) ? row.brief.outline : undefined;
  if (Array.isArray(own) && own.length >= 3) return own as unknown as readonly Position[];
  return visit.field.outline ?? null;
}
