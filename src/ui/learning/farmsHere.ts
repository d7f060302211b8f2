import { isJsonObject } from '../../core/sync/json.ts';
import { rows } from '../state/app.ts';

/** Farms with a visit on this device, by name. */
export function farmsHere(): readonly { readonly id: string; readonly name: string }[] {
  const farms = new Map<string, string>();
  for (const { kind, brief } of rows.value) {
    const farm = kind === 'visit' && isJsonObject(brief) ? brief.farm : undefined;
    if (isJsonObject(farm) && typeof farm.id === 'string') farms.set(farm.id, String(farm.name ?? farm.id));
  }
  return [...farms].map(([id, name]) => ({ id, name })).sort((a, b) => (a.name < b.name ? -1 : 1));
}
