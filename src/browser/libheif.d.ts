/** The part of libheif's WebAssembly build that is used here; the package ships no types for this file. */
declare module 'libheif-js/libheif-wasm/libheif-bundle.mjs' {
  export interface HeifImage {
    get_width(): number;
    get_height(): number;
    display(target: ImageData, done: (result: ImageData | null) => void): void;
  }
  export default function libheif(): { HeifDecoder: new () => { decode(data: Uint8Array): HeifImage[] } };
}
