import type { DetectorCard } from '../core/detector/detectorCard.ts';
import { findPlants } from '../core/detector/findPlants.ts';
import type { PlantFindings, PlantSearch } from '../core/plants/detection.ts';
import type { Strip } from '../core/straighten/strip.ts';
import { onnxRunner } from './onnxRunner.ts';

/** A network ready to look at strips. */
export interface Network {
  readonly detector: { readonly name: string; readonly version: string };
  /** What the network sees, joined with what colour saw in the same strip. */
  readonly refine: (strip: Strip, search: PlantSearch, colour: PlantFindings) => Promise<PlantFindings>;
}

interface NetworkFiles {
  readonly card: DetectorCard;
  readonly bytes: Uint8Array;
}

const BEST = 'seedlings';
const MOST_THREADS = 4;

const fetching = new Map<string, Promise<NetworkFiles>>();
const opened = new Map<string, Promise<Network>>();

/** Starts fetching a network's files, so that they are there when the first number is told; failing is told later. */
export function fetchNetwork(model: string): void {
  files(nameOf(model)).catch(() => undefined);
}

/**
 * The network of a name, `auto` for the best that came with the page. Rejects in plain words where it cannot be had
 * (not kept yet and no network, too little memory); the next call tries again.
 */
export async function openNetwork(model: string): Promise<Network> {
  const name = nameOf(model);
  const known = opened.get(name) ?? open(name);
  opened.set(name, known);
  try {
    return await known;
  } catch (error) {
    opened.delete(name);
    throw error;
  }
}

const nameOf = (model: string) => (model === 'auto' ? BEST : model);

async function open(name: string): Promise<Network> {
  const { card, bytes } = await files(name);
  const threads = Math.min(MOST_THREADS, navigator.hardwareConcurrency);
  const { run } = await onnxRunner(bytes, { wasmPaths: '/engine/', threads, tryGpu: false });
  // The engine holds its own copy from here on.
  fetching.delete(name);
  return {
    detector: { name: card.name, version: card.sha256.slice(0, 12) },
    refine: (strip, search, colour) => findPlants(strip, search, colour, run, card),
  };
}

function files(name: string): Promise<NetworkFiles> {
  const known = fetching.get(name) ?? fetchFiles(name);
  fetching.set(name, known);
  known.catch(() => fetching.delete(name));
  return known;
}

async function fetchFiles(name: string): Promise<NetworkFiles> {
  const card = (await (await fetched(`/models/${name}.json`)).json()) as DetectorCard;
  return { card, bytes: new Uint8Array(await (await fetched(`/models/${card.file}`)).arrayBuffer()) };
}

async function fetched(address: string): Promise<Response> {
  const answer = await fetch(address).catch(() => null);
  if (answer?.ok) return answer;
  throw new Error('the plant network is not on this device yet and could not be fetched');
}
