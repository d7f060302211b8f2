/** Where the table of tags begins, and how long one entry is (ICC.1:2022, 7.3). */
const TABLE = 128;
const ENTRY = 12;

/**
 * Whether an ICC profile calls itself sRGB: then the pixels are what is wanted already, and to take them through the profile
 * would cost half the time of reading the photo and change nothing. Read is the tag `desc` (ICC.1:2022, 9.2.41), as plain
 * text of version 2 or as the localized text of version 4. False for anything that cannot be read.
 */
export function isSrgbProfile(profile: Uint8Array): boolean {
  const view = new DataView(profile.buffer, profile.byteOffset, profile.byteLength);
  if (view.byteLength < TABLE + 4) return false;
  const tags = Math.min(view.getUint32(TABLE), Math.floor((view.byteLength - TABLE - 4) / ENTRY));
  for (let k = 0; k < tags; k++) {
    const at = TABLE + 4 + k * ENTRY;
    if (ascii(profile, at, 4) !== 'desc') continue;
    const text = ascii(profile, view.getUint32(at + 4), view.getUint32(at + 8));
    // localized text has two bytes a letter
    return /^(?:desc|mluc)/.test(text) && /(?:^|[^A-Za-z])sRGB(?:$|[^A-Za-z])/.test(text.replaceAll('\0', ''));
  }
  return false;
}

function ascii(bytes: Uint8Array, from: number, length: number): string {
  return String.fromCharCode(...bytes.subarray(from, from + Math.min(length, 512)));
}
