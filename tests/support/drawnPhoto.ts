import sharp, { type Sharp } from 'sharp';

export const DRAWN_WIDTH_PX = 320;
export const DRAWN_HEIGHT_PX = 240;

/** A drawn field: brown with four flat marks of known colours in its corners, so that orientation shows. */
export function drawnPhoto(): Sharp {
  const mark = (x: number, y: number, fill: string) =>
    `<rect x="${x}" y="${y}" width="60" height="60" fill="${fill}"/>`;
  const svg = `<svg xmlns="http://www.w3.org/2000/svg" width="${DRAWN_WIDTH_PX}" height="${DRAWN_HEIGHT_PX}">
    <rect width="100%" height="100%" fill="#7a5a3c"/>${mark(0, 0, '#ff0000')}${mark(260, 0, '#00ff00')}${mark(0, 180, '#0000ff')}${mark(260, 180, '#ffff00')}
  </svg>`;
  return sharp(Buffer.from(svg)).removeAlpha();
}

/** Nearest corner colour by name. */
export function colourAt(data: ArrayLike<number>, widthPx: number, x: number, y: number): string {
  const i = (y * widthPx + x) * 4;
  const names: Record<string, readonly [number, number, number]> = {
    red: [255, 0, 0],
    green: [0, 255, 0],
    blue: [0, 0, 255],
    yellow: [255, 255, 0],
    brown: [122, 90, 60],
  };
  const distance = (c: readonly number[]) => Math.hypot(c[0]! - data[i]!, c[1]! - data[i + 1]!, c[2]! - data[i + 2]!);
  const [name, colour] = Object.entries(names).sort((a, b) => distance(a[1]) - distance(b[1]))[0]!;
  return distance(colour) < 90 ? name : 'other';
}
