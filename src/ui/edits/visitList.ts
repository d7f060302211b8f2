import type { Row } from '../../browser/store/storeTypes.ts';
import { isJsonObject, type Json } from '../../core/sync/json.ts';

/** One visit as lists show and filter it; what is not known is empty. */
export interface VisitLine {
  readonly id: string;
  readonly visitedOn: string;
  readonly season: string;
  readonly field: string;
  readonly fieldName: string;
  readonly farmName: string;
  readonly marketClass: string;
  readonly spots: number;
  readonly conflicts: number;
  readonly updatedAt: string;
  /** Lower-case words that a search looks through. */
  readonly search: string;
}

/** What is wanted; empty text wants everything. Days, YYYY-MM-DD, both included. */
export interface VisitFilter {
  readonly words: string;
  readonly season: string;
  readonly field: string;
  readonly marketClass: string;
  readonly verdict: string;
  /** 'none': nobody decided yet. */
  readonly decision: string;
  readonly from: string;
  readonly to: string;
}

export const ALL_VISITS: VisitFilter = {
  words: '',
  season: '',
  field: '',
  marketClass: '',
  verdict: '',
  decision: '',
  from: '',
  to: '',
};

/** Every visit on this device, newest first. Names are those of the field's and farm's own documents where they are here. */
export function visitList(rows: readonly Row[]): readonly VisitLine[] {
  const names = new Map(
    rows.flatMap((row) => {
      const name = isJsonObject(row.brief) && typeof row.brief.name === 'string' ? row.brief.name : null;
      return name === null ? [] : [[row.thingKey, name] as const];
    }),
  );
  const lines = rows.flatMap((row): VisitLine[] => {
    const brief = row.kind === 'visit' && isJsonObject(row.brief) ? row.brief : null;
    if (brief === null || brief.removed === true) return [];
    const [field, farm, planting] = [brief.field, brief.farm, brief.planting].map((one) =>
      isJsonObject(one) ? one : {},
    );
    const fieldName = names.get(`field/${field?.id}`) ?? text(field?.name);
    const farmName = names.get(`farm/${farm?.id}`) ?? text(farm?.name);
    const marketClass = text(planting?.marketClass);
    const people = (Array.isArray(brief.people) ? brief.people : []).map((one) =>
      isJsonObject(one) ? text(one.name) : '',
    );
    const words = [fieldName, farmName, marketClass, text(planting?.variety), ...people];
    return [
      {
        id: row.thing,
        visitedOn: text(brief.visitedOn),
        season: text(brief.season),
        field: text(field?.id),
        fieldName,
        farmName,
        marketClass,
        spots: Array.isArray(brief.spots) ? brief.spots.length : 0,
        conflicts: row.conflicts,
        updatedAt: row.updatedAt,
        search: words.join(' ').toLowerCase(),
      },
    ];
  });
  return lines.sort((a, b) =>
    a.visitedOn === b.visitedOn ? (a.id < b.id ? 1 : -1) : a.visitedOn < b.visitedOn ? 1 : -1,
  );
}

/** The visits that a filter leaves, verdicts and decisions apart: those are worked out later, and only for what is left here. */
export function wantedVisits(lines: readonly VisitLine[], filter: VisitFilter): readonly VisitLine[] {
  const words = filter.words.toLowerCase().split(/\s+/).filter(Boolean);
  return lines.filter(
    (line) =>
      (filter.season === '' || line.season === filter.season) &&
      (filter.field === '' || line.field === filter.field) &&
      (filter.marketClass === '' || line.marketClass === filter.marketClass) &&
      (filter.from === '' || line.visitedOn >= filter.from) &&
      (filter.to === '' || line.visitedOn <= filter.to) &&
      words.every((word) => line.search.includes(word)),
  );
}

/** What a filter can be set to, each with the number of visits. */
export function choicesOf(
  lines: readonly VisitLine[],
  partOf: (line: VisitLine) => readonly [value: string, label: string],
): readonly { readonly value: string; readonly label: string; readonly visits: number }[] {
  const found = new Map<string, { value: string; label: string; visits: number }>();
  for (const line of lines) {
    const [value, label] = partOf(line);
    const one = found.get(value) ?? { value, label, visits: 0 };
    if (value !== '') found.set(value, { ...one, visits: one.visits + 1 });
  }
  return [...found.values()].sort((a, b) => a.label.localeCompare(b.label));
}

function text(value: Json | undefined): string {
  return typeof value === 'string' || typeof value === 'number' ? String(value) : '';
}
