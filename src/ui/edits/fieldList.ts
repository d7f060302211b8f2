import type { Row } from '../../browser/store/storeTypes.ts';
import { isJsonObject, type JsonObject } from '../../core/sync/json.ts';
import type { VisitDocument } from '../../core/visit/visitSchema.ts';

export interface VisitBrief {
  readonly id: string;
  readonly visitedOn: string;
  readonly season: number;
  /** Id of what was planted. */
  readonly planting: string;
  readonly zones: VisitDocument['zones'];
  readonly conflicts: number;
  readonly updatedAt: string;
  readonly spots: readonly {
    readonly id: string;
    readonly position: readonly [number, number] | null;
    readonly photos: readonly string[];
  }[];
}

export interface FieldEntry {
  readonly field: VisitDocument['field'];
  readonly farm: VisitDocument['farm'];
  /** Newest first. */
  readonly plantings: readonly { readonly planting: VisitDocument['planting']; readonly season: number }[];
  readonly visits: readonly VisitBrief[];
  readonly search: string;
}

/**
 * Fields with their plantings and visits, from what lists know of things. A visit carries its farm, field and planting,
 * so a field shows even where nobody recorded it apart. Fields visited or planted last come first.
 */
export function fieldList(rows: readonly Row[]): readonly FieldEntry[] {
  const farms = new Map<string, VisitDocument['farm']>();
  const fields = new Map<string, { field: VisitDocument['field']; farmId: string }>();
  const plantings = new Map<string, { planting: VisitDocument['planting']; season: number; fieldId: string }>();
  const visits = new Map<string, VisitBrief[]>();
  const set = <V>(map: Map<string, V>, id: unknown, value: V, isOwn: boolean) => {
    if (typeof id === 'string' && (isOwn || !map.has(id))) map.set(id, value);
  };
  for (const row of [...rows].sort((a, b) => (a.updatedAt < b.updatedAt ? 1 : -1))) {
    const brief = isJsonObject(row.brief) ? row.brief : {};
    if (brief.removed === true) continue;
    const { schema: _schema, ...own } = brief;
    if (row.kind === 'farm') set(farms, row.thing, own as never, true);
    if (row.kind === 'field') {
      const { farmId, ...field } = own;
      set(fields, row.thing, { field: field as never, farmId: String(farmId ?? '') }, true);
    }
    if (row.kind === 'planting') {
      const { fieldId, season, ...planting } = own;
      const entry = { planting: planting as never, season: Number(season), fieldId: String(fieldId) };
      set(plantings, row.thing, entry, true);
    }
    if (row.kind !== 'visit') continue;
    const [farm, field, planting] = [brief.farm, brief.field, brief.planting].map((part) =>
      isJsonObject(part) ? part : ({} as JsonObject),
    );
    const fieldId = String(field?.id ?? '');
    set(farms, farm?.id, farm as never, false);
    set(fields, fieldId, { field: field as never, farmId: String(farm?.id ?? '') }, false);
    const entry = { planting: planting as never, season: Number(brief.season), fieldId };
    set(plantings, planting?.id, entry, false);
    const visit: VisitBrief = {
      id: row.thing,
      visitedOn: String(brief.visitedOn ?? ''),
      season: Number(brief.season),
      planting: String(planting?.id ?? ''),
      zones: Array.isArray(brief.zones) ? (brief.zones as never) : undefined,
      conflicts: row.conflicts,
      updatedAt: row.updatedAt,
      spots: (Array.isArray(brief.spots) ? brief.spots : []) as never,
    };
    visits.set(fieldId, [...(visits.get(fieldId) ?? []), visit]);
  }
  const entries = [...fields].map(([id, { field, farmId }]): FieldEntry => {
    const farm = farms.get(farmId) ?? { id: farmId, name: '' };
    const own = [...plantings.values()].filter((one) => one.fieldId === id);
    own.sort((a, b) => (a.planting.plantedOn < b.planting.plantedOn ? 1 : -1));
    const seen = (visits.get(id) ?? []).sort((a, b) => (a.visitedOn < b.visitedOn ? 1 : -1));
    const words = [field.name, farm.name, ...own.map((one) => `${one.planting.marketClass} ${one.season}`)];
    return { field, farm, plantings: own, visits: seen, search: words.join(' ').toLowerCase() };
  });
  const newest = (entry: FieldEntry) => entry.visits[0]?.visitedOn ?? entry.plantings[0]?.planting.plantedOn ?? '';
  return entries.sort((a, b) => (newest(a) < newest(b) ? 1 : newest(a) > newest(b) ? -1 : 0));
}
