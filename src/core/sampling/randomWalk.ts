import { cannot, good, type Outcome } from '../faults/outcome.ts';
import type { Random } from '../statistics/seededRandom.ts';

export interface WalkedField {
  /** Length of the rows, in the walker's paces. */
  readonly lengthPaces: number;
  readonly rows: number;
  /** Paces at both ends and rows at both sides that no spot falls in (headlands); 0 to leave nothing out. */
  readonly marginPaces: number;
  readonly marginRows: number;
}

/** One spot of a walk: from the corner where the walk begins, this many rows over and this many paces in. */
export interface WalkStop {
  readonly number: number;
  readonly rowsOver: number;
  readonly pacesIn: number;
}

export interface Walk {
  readonly stops: readonly WalkStop[];
  readonly reasons: readonly string[];
}

/**
 * Spots for a walk on foot, each as likely anywhere inside the margins, whatever the eye would pick: whole rows over
 * and whole paces in, from a seed. Stops come in the order of rows, so that the field is crossed once; the order is no
 * part of the chance. Starting 30 paces in keeps out of the headlands (a seed company's guide to stand counts).
 */
export function randomWalk(field: WalkedField, spots: number, random: Random): Outcome<Walk> {
  const paces = field.lengthPaces - 2 * field.marginPaces;
  const rows = field.rows - 2 * field.marginRows;
  if (!(spots >= 1 && Number.isInteger(spots))) {
    return cannot('spots', `${spots} spots`, 'a whole number from 1 on', 'Say how many spots.');
  }
  if (!(paces >= 1 && rows >= 1 && field.marginPaces >= 0 && field.marginRows >= 0)) {
    const found = `${field.lengthPaces} paces by ${field.rows} rows with margins of ${field.marginPaces} paces and ${field.marginRows} rows`;
    return cannot('field too small', found, 'ground inside the margins', 'Make the margins smaller.');
  }
  const picked = Array.from({ length: spots }, () => ({
    rowsOver: Math.floor(field.marginRows) + 1 + Math.floor(random() * Math.floor(rows)),
    pacesIn: Math.floor(field.marginPaces) + Math.floor(random() * (Math.floor(paces) + 1)),
  }));
  picked.sort((a, b) => a.rowsOver - b.rowsOver || a.pacesIn - b.pacesIn);
  const left = field.marginPaces > 0 || field.marginRows > 0;
  return good({
    stops: picked.map((stop, i) => ({ number: i + 1, ...stop })),
    reasons: left ? ['the margins are left out: the mean is that of the ground inside them'] : [],
  });
}
