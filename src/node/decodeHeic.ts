import { createRequire } from 'node:module';
import type { Raster } from '../core/raster/raster.ts';

interface HeifImage {
  get_width(): number;
  get_height(): number;
  display(target: { data: Uint8ClampedArray; width: number; height: number }, done: (result: unknown) => void): void;
  free(): void;
}

/**
 * Decodes a HEIC photo (what phones make, which sharp cannot) with libheif compiled to WebAssembly, loaded only when
 * such a photo comes. libheif turns the picture upright itself, so EXIF orientation must not be applied again.
 * Throws when the file is broken or larger than `maxPx` pixels.
 */
export async function decodeHeic(bytes: Buffer, maxPx: number): Promise<Raster> {
  const libheif = createRequire(import.meta.url)('libheif-js/wasm-bundle') as {
    HeifDecoder: new () => { decode(data: Uint8Array): HeifImage[] };
  };
  return withoutConsole(async () => {
    const [image] = new libheif.HeifDecoder().decode(bytes);
    if (image === undefined) throw new Error('no picture inside');
    try {
      const widthPx = image.get_width();
      const heightPx = image.get_height();
      if (!(widthPx * heightPx <= maxPx)) throw new Error(`${widthPx} x ${heightPx} pixels`);
      const data = new Uint8ClampedArray(widthPx * heightPx * 4);
      await new Promise<void>((resolve, reject) => {
        image.display({ data, width: widthPx, height: heightPx }, (result) =>
          result ? resolve() : reject(new Error('the picture data is broken')),
        );
      });
      return { widthPx, heightPx, data };
    } finally {
      image.free();
    }
  });
}

/** libheif writes its troubles to the console's standard output, which belongs to results: kept quiet while it works. */
async function withoutConsole<T>(work: () => Promise<T>): Promise<T> {
  const { log } = console;
  console.log = () => {};
  try {
    return await work();
  } finally {
    console.log = log;
  }
}
