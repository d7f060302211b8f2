import type { Field, Mask } from '../../src/core/raster/raster.ts';

/** A mask drawn as text: `#` (or any letter) is inside, `.` and space are outside. */
export function maskFromText(text: string): Mask {
  const rows = text
    .split('\n')
    .map((row) => row.trim())
    .filter((row) => row !== '');
  const widthPx = rows[0]!.length;
  const data = Uint8Array.from(rows.join(''), (c) => (c === '.' ? 0 : 1));
  return { widthPx, heightPx: rows.length, data };
}

/** The same picture back: 0 is `.`, 1 is `#`, larger labels their digit. */
export function fieldToText({ widthPx, heightPx, data }: Field<Uint8Array | Int32Array>, ones = '#'): string {
  const rows = Array.from({ length: heightPx }, (_, y) =>
    Array.from(data.subarray(y * widthPx, (y + 1) * widthPx), (v) => (v === 0 ? '.' : v === 1 ? ones : String(v))).join(
      '',
    ),
  );
  return rows.join('\n');
}

/** Text without the indentation of the test file. */
export function picture(text: string): string {
  return text
    .split('\n')
    .map((row) => row.trim())
    .filter((row) => row !== '')
    .join('\n');
}
