import sharp from 'sharp';

export interface DrawnRow {
  readonly png: Buffer;
  /** Stem places, photo pixels. */
  readonly stemsPx: readonly (readonly [number, number])[];
}

/**
 * A flat drawing of a row seen straight down: brown soil with speckles, and at each place two green leaves around a
 * stem, 50 mm across. Not a photograph and not a test of plant finding: it only carries known places through the tool.
 *
 * @param alongMm stem places along the row, millimetres from the left edge.
 */
export async function drawnRow(alongMm: readonly number[], lengthMm: number, mmPerPx: number): Promise<DrawnRow> {
  const widthPx = Math.round(lengthMm / mmPerPx);
  const heightPx = Math.round(600 / mmPerPx);
  const y = heightPx / 2;
  const speckles = Array.from({ length: 900 }, (_, i) => {
    const at = (k: number) => ((i * 7919 + k * 104_729) % 10_007) / 10_007;
    const shade = 70 + Math.floor(at(3) * 70);
    return `<circle cx="${at(1) * widthPx}" cy="${at(2) * heightPx}" r="${1 + at(4) * 5}" fill="rgb(${shade + 25},${shade},${shade - 20})"/>`;
  }).join('');
  const leaf = 24 / mmPerPx;
  const stemsPx = alongMm.map((mm) => [mm / mmPerPx, y] as const);
  const plants = stemsPx
    .map(
      ([x]) =>
        `<g transform="rotate(${(x * 37) % 50} ${x} ${y})"><ellipse cx="${x - leaf * 0.55}" cy="${y}" rx="${leaf * 0.52}" ry="${leaf * 0.4}" fill="#4c8f2f"/><ellipse cx="${x + leaf * 0.55}" cy="${y}" rx="${leaf * 0.52}" ry="${leaf * 0.4}" fill="#579a35"/></g>`,
    )
    .join('');
  const svg = `<svg xmlns="http://www.w3.org/2000/svg" width="${widthPx}" height="${heightPx}"><rect width="100%" height="100%" fill="#806248"/>${speckles}${plants}</svg>`;
  return { png: await sharp(Buffer.from(svg)).removeAlpha().png().toBuffer(), stemsPx };
}
