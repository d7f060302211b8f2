import type { ModelTensor } from '../../../src/core/detector/modelRunner.ts';

/** Network outputs whose crown map is drawn as text: a digit is a tenth, a dot is zero. */
export function mapsFrom(rows: readonly string[]): ModelTensor {
  const h = rows.length;
  const w = rows[0]?.length ?? 0;
  const data = new Float32Array(11 * h * w);
  rows.forEach((row, y) => {
    [...row].forEach((mark, x) => {
      data[y * w + x] = mark === '.' ? 0 : Number(mark) / 10;
    });
  });
  return { data, dims: [1, 11, h, w] };
}

/** Sets one map's value at one cell. */
export function cellsOf(maps: ModelTensor, x: number, y: number): (map: number, value: number) => void {
  const [, , h, w] = maps.dims as [number, number, number, number];
  return (map, value) => {
    maps.data[map * h * w + y * w + x] = value;
  };
}
