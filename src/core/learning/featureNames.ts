/**
 * What is told of a mark to a learned head, in this order. A head keeps the names it was trained with: after any change
 * here it is refused, not misread. Lengths go in as logarithms, so that a factor counts the same at every size; colours
 * as shares of their sum or against the soil of the same strip, so that light matters little.
 */
export const FEATURE_NAMES = [
  /** Chance that the mark is exactly one plant, as the stock detector gave it. */
  'confidence',
  /** Chance of two or more plants under the mark, from the stock detector. */
  'doubleChance',
  /** 1 where the stock detector called it a plant. */
  'calledPlant',
  /** 1 where the stock detector called it a weed. */
  'calledWeed',
  /** ln of the leaf area over the median leaf area of the strip's plants. */
  'leafAreaOverPlants',
  /** ln of the leaf area over 10 cm2. */
  'leafArea',
  /** ln of the root of the box area over 50 mm. */
  'boxSize',
  /** ln of the box's side along the row over its side across. */
  'boxAspect',
  /** ln of the length over the width of the leaf pixels in the box, from their covariance: 0 when round. */
  'elongation',
  /** Share of the box's pixels that are leaf. */
  'leafShare',
  /** ln(1 + distance of the base off the row line over 10 mm); 0 without a row line. */
  'offRow',
  /** 1 where the strip has a row line. */
  'rowKnown',
  /** ln of the distance to the nearest other mark called plant or unsure, over 100 mm. */
  'nearest',
  /** The same to the second nearest. */
  'secondNearest',
  /** ln of the leaf area over the nearest mark's leaf area. */
  'areaOverNearest',
  /** ln of the distance from base to crown over 10 mm, plus one millimetre. */
  'crownFromBase',
  /** Mean of r / (r + g + b) over the leaf pixels. */
  'redShare',
  /** Mean of g / (r + g + b) over the leaf pixels. */
  'greenShare',
  /** Mean vegetation index of the leaf pixels over the soil's commonest value. */
  'greenOverSoil',
  /** Standard deviation of the vegetation index over the leaf pixels. */
  'greenSpread',
  /** ln of the leaf's mean brightness over the soil's median brightness. */
  'brightOverSoil',
  /** Standard deviation of ln brightness over the leaf pixels. */
  'brightSpread',
  /** Mean step of ln brightness between neighbouring leaf pixels over their spread: low when smooth, high when rough. */
  'roughness',
  /** Tangent of the viewing angle from the vertical at the mark. */
  'viewTangent',
] as const;
