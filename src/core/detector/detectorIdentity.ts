import type { DetectorCard } from './detectorCard.ts';

/** How a result names what found its plants. Marks of one identity can be compared; a farm's head fits one identity. */
export interface DetectorIdentity {
  readonly name: string;
  readonly version: string;
}

/** Raise each with every change of colour finding, or of the weights by which both are joined, that moves marks. */
const COLOUR_VERSION = 3;
const JOINED_VERSION = 5;

/** Colour alone, without a network. */
export const COLOUR_IDENTITY: DetectorIdentity = { name: 'none', version: `${COLOUR_VERSION}` };

/** A network joined with colour: the file's first digits, then the versions of what is joined to it. */
export function joinedIdentity({ name, sha256 }: Pick<DetectorCard, 'name' | 'sha256'>): DetectorIdentity {
  return { name, version: `${sha256.slice(0, 12)}.${JOINED_VERSION}.${COLOUR_VERSION}` };
}
