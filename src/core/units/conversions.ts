/**
 * The one table of exact conversions. Everything inside the core is in metres, square metres, kilograms and plants per
 * square metre; other units appear only where a person types or reads. Areas derive from lengths.
 *
 * Source: the international yard and pound agreement of 1959 (inch 0.0254 m, pound 0.45359237 kg exactly). The acre is
 * the international one, 43,560 square feet = 4046.8564224 m2; the US survey acre is larger by 4 parts in a million.
 */
export const METRES_PER_INCH = 0.0254;
export const METRES_PER_FOOT = 0.3048;
export const METRES_PER_YARD = 0.9144;
export const METRES_PER_CENTIMETRE = 0.01;
export const METRES_PER_MILLIMETRE = 0.001;

export const SQUARE_METRES_PER_SQUARE_FOOT = METRES_PER_FOOT * METRES_PER_FOOT;
export const SQUARE_FEET_PER_ACRE = 43_560;
export const SQUARE_METRES_PER_ACRE = 4046.8564224;
export const SQUARE_METRES_PER_HECTARE = 10_000;

export const KILOGRAMS_PER_POUND = 0.453_592_37;
