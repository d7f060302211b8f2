import type { DetectorCard } from '../core/detector/detectorCard.ts';
import { type DetectorIdentity, joinedIdentity } from '../core/detector/detectorIdentity.ts';
import { findPlants } from '../core/detector/findPlants.ts';
import type { PlantFindings, PlantSearch } from '../core/plants/detection.ts';
import type { Strip } from '../core/straighten/strip.ts';
import { fetchKept } from './fetchKept.ts';
import type { NetworkThread } from './networkThread.ts';

/** A network ready to look at strips. */
export interface Network {
  readonly detector: DetectorIdentity;
  /** What the network sees, joined with what colour saw in the same strip. */
  readonly refine: (strip: Strip, search: PlantSearch, colour: PlantFindings) => Promise<PlantFindings>;
  /** Gives the network's memory back. */
  readonly close: () => void;
}

/** A network's files on their way, so that they are there when the first number is told. */
export interface NetworkFiles {
  readonly card: DetectorCard;
  readonly bytes: Uint8Array<ArrayBuffer>;
}

const BEST = 'seedlings';

/** Fetches the network of a name, `auto` for the best that came with the page. Rejects in plain words. */
export async function fetchNetwork(model: string): Promise<NetworkFiles> {
  const name = model === 'auto' ? BEST : model;
  const card = (await (await fetchKept(`/models/${name}.json`)).json()) as DetectorCard;
  return { card, bytes: new Uint8Array(await (await fetchKept(`/models/${card.file}`)).arrayBuffer()) };
}

/**
 * Opens a fetched network in a thread, which it ends where that fails; the bytes are handed over. Rejects in plain words
 * (too little memory, a broken file).
 */
export async function openNetwork({ card, bytes }: NetworkFiles, { open, close }: NetworkThread): Promise<Network> {
  const run = await open(bytes).catch((error: unknown) => {
    close();
    throw error;
  });
  return {
    detector: joinedIdentity(card),
    refine: (strip, search, colour) => findPlants(strip, search, colour, run, card),
    close,
  };
}
