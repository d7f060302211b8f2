/** Pixels never decoded beyond, whatever the file says. */
export const MOST_PIXELS = 120_000_000;
export const MOST_BYTES = 200 * 1024 * 1024;
/** Photos above this are halved once read: no phone resolves soil finer than that, and memory stays bounded. */
export const SHRINK_ABOVE_PX = 40_000_000;
export const SMALLEST_SIDE_PX = 32;
export const WANTED_PHOTO = 'a JPEG, PNG, WebP, AVIF or HEIC photo of at most 120 megapixels';
