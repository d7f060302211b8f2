import { median } from '../line/contrastDirection.ts';
import { solveLeastSquares } from '../line/solveLeastSquares.ts';
import type { BandBorder } from './bandBorders.ts';

export interface BandFit {
  /** Band count at u is (perT * t + offset) with t = u / (1 + c u). */
  readonly c: number;
  readonly perT: number;
  readonly offset: number;
  readonly borders: readonly { readonly u: number; readonly band: number }[];
  /** Robust spread of borders about the fit, bands. */
  readonly spread: number;
}

/**
 * Numbers band borders under one projective map, though leaves hide some: tries neighbouring pairs as one to four bands
 * apart over the foreshortenings the taper allows, keeps the map on which most borders fall on whole numbers with colours
 * taking turns, and refines it by least squares.
 */
export function fitBands(
  borders: readonly BandBorder[],
  mid: number,
  half: number,
  taper: number,
  taperSd: number,
): BandFit | null {
  if (borders.length < 3) return null;
  const us = borders.map((b) => (b.s - mid) / half);
  let best: (Start & { readonly score: number }) | null = null;
  const reach = Math.min(0.2, Math.max(0.03, 3 * taperSd));
  for (let i = -12; i <= 12; i++) {
    const c = Math.max(-0.85, Math.min(0.85, taper + (reach * i) / 12));
    const ts = us.map((u) => u / (1 + c * u));
    for (let a = 0; a + 1 < ts.length; a++) {
      for (let b = a + 1; b < Math.min(ts.length, a + 4); b++) {
        for (let m = b - a; m <= b - a + 3; m++) {
          const perT = m / (ts[b]! - ts[a]!);
          const offset = -perT * ts[a]!;
          let hits = 0;
          let off = 0;
          const taken = new Set<number>();
          for (let k = 0; k < ts.length; k++) {
            const n = perT * ts[k]! + offset;
            const whole = Math.round(n);
            const turn = ((whole % 2) + 2) % 2 === 0 ? borders[a]!.turn : -borders[a]!.turn;
            if (Math.abs(n - whole) < 0.12 && turn === borders[k]!.turn && !taken.has(whole)) {
              taken.add(whole);
              hits++;
              off += Math.abs(n - whole);
            }
          }
          const span = perT * (1 / (1 + c) + 1 / (1 - c));
          // finer bands than the borders show need each to be hidden
          const score = hits - 0.25 * Math.max(0, span - 1 - hits) - 2 * (off / Math.max(1, hits)) - 0.02 * Math.abs(i);
          if (best === null || score > best.score) best = { c, perT, offset, turn: borders[a]!.turn, score };
        }
      }
    }
  }
  if (best === null) return null;
  return refine(us, borders, best, taper, Math.max(0.004, taperSd));
}

interface Start {
  readonly c: number;
  readonly perT: number;
  readonly offset: number;
  /** Which way the colour turns at even borders. */
  readonly turn: 1 | -1;
}

function refine(
  us: readonly number[],
  borders: readonly BandBorder[],
  start: Start,
  taper: number,
  taperSd: number,
): BandFit | null {
  let { c, perT, offset } = start;
  let kept: { u: number; band: number }[] = [];
  let spread = 0.05;
  for (let pass = 0; pass < 6; pass++) {
    const nearest = new Map<number, { u: number; band: number; off: number }>();
    us.forEach((u, k) => {
      const n = (perT * u) / (1 + c * u) + offset;
      const band = Math.round(n);
      const off = Math.abs(n - band);
      const turn = band % 2 === 0 ? start.turn : -start.turn;
      if (off >= Math.max(0.06, 4 * spread) || turn !== borders[k]!.turn) return;
      if (off < (nearest.get(band)?.off ?? 1)) nearest.set(band, { u, band, off });
    });
    kept = [...nearest.values()].map(({ u, band }) => ({ u, band }));
    if (kept.length < 3 || kept.length < 0.5 * borders.length) return null;
    const rows = kept.map(({ u }) => {
      const t = u / (1 + c * u);
      return [1, t, -perT * t * t];
    });
    const values = kept.map(({ u, band }) => band - ((perT * u) / (1 + c * u) + offset));
    // the taper stands in as one more observation of c, weighted for borders good to 1 % of a band
    rows.push([0, 0, 0.01 / taperSd]);
    values.push((0.01 / taperSd) * (taper - c));
    const step = solveLeastSquares(rows, values, null);
    if (step === null) return null;
    offset += step[0]!;
    perT += step[1]!;
    c = Math.max(-0.9, Math.min(0.9, c + step[2]!));
    spread = Math.max(
      0.003,
      1.4826 * median(kept.map(({ u, band }) => Math.abs(band - ((perT * u) / (1 + c * u) + offset)))),
    );
  }
  if (spread > 0.05) return null;
  return { c, perT, offset, borders: kept, spread };
}
