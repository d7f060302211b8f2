/** Area inside a hoop, square metres, from its inside diameter in metres. Uses pi in full: printed hoop tables that run
 * 0.05 % high used 3.14. */
export function hoopAreaM2(insideDiameterM: number): number {
  if (!(insideDiameterM > 0)) throw new RangeError(`a hoop's inside diameter is above 0 m, got ${insideDiameterM}`);
  return (Math.PI * insideDiameterM * insideDiameterM) / 4;
}

/** What the plants inside one hoop are multiplied by to give plants on an area (an acre, a hectare), both in square
 * metres: `hoopFactor(30 * METRES_PER_INCH, SQUARE_METRES_PER_ACRE)` is 8,874. */
export function hoopFactor(insideDiameterM: number, areaM2: number): number {
  return areaM2 / hoopAreaM2(insideDiameterM);
}
