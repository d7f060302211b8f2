import type { Warning } from '../core/reference/reference.ts';

export const COLOUR_ALONE = 'colour-alone';

/** Why a count that a network should have refined is by colour alone. */
export function colourAlone(why: string): Warning {
  return { code: COLOUR_ALONE, message: `Counted by colour alone: ${why}. Look at the marks before you trust it.` };
}
