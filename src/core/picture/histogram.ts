import { px, svgText } from './svg.ts';

export interface HistogramBox {
  readonly x: number;
  readonly y: number;
  readonly widthPx: number;
  readonly heightPx: number;
}

/** Bars of in-row spacings, in bins of `binM` metres, with the mean marked. `label` turns metres into words. */
export function spacingHistogram(
  spacingsM: readonly number[],
  binM: number,
  label: (m: number) => string,
  box: HistogramBox,
): string {
  const { x, y, widthPx, heightPx } = box;
  const title = svgText(x, y + 22, 'Spacing between neighbours', { sizePx: 20 }, false);
  if (spacingsM.length === 0) {
    return title + svgText(x, y + 56, 'needs two plants or more', { sizePx: 18, bold: false }, false);
  }
  const bins = Math.min(24, Math.max(4, Math.ceil(Math.max(...spacingsM) / binM)));
  const counts = new Array<number>(bins).fill(0);
  for (const s of spacingsM) counts[Math.min(bins - 1, Math.max(0, Math.floor(s / binM)))]!++;
  const top = Math.max(...counts);
  const base = y + heightPx - 30;
  const tall = heightPx - 76;
  const w = widthPx / bins;
  let out = title;
  counts.forEach((n, i) => {
    if (n === 0) return;
    const h = (n / top) * tall;
    out += `<rect x="${px(x + i * w + 1)}" y="${px(base - h)}" width="${px(w - 2)}" height="${px(h)}" fill="#2b6c3f"/>`;
    out += svgText(x + (i + 0.5) * w, base - h - 4, String(n), { sizePx: 15, anchor: 'middle', bold: false }, false);
  });
  const mean = spacingsM.reduce((a, b) => a + b, 0) / spacingsM.length;
  const mx = x + Math.min(bins, mean / binM) * w;
  out += `<path d="M${px(mx)} ${px(base + 4)}V${px(base - tall)}" stroke="#b3261e" stroke-width="2" stroke-dasharray="6 4"/>`;
  out += `<path d="M${px(x)} ${px(base)}H${px(x + widthPx)}" stroke="#161616" stroke-width="2"/>`;
  out += svgText(x, base + 22, label(0), { sizePx: 16, bold: false }, false);
  out += svgText(x + widthPx, base + 22, label(bins * binM), { sizePx: 16, anchor: 'end', bold: false }, false);
  return out + svgText(mx, base + 22, `mean ${label(mean)}`, { sizePx: 16, anchor: 'middle', fill: '#b3261e' }, false);
}
