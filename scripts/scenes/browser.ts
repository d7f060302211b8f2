import { createServer } from 'node:http';
import { createRequire } from 'node:module';
import type { AddressInfo } from 'node:net';
import { fileURLToPath } from 'node:url';
import { chromium } from 'playwright-core';
import { build } from 'vite';
import type { SceneSpec } from './spec.ts';

export type Picture = {
  readonly pixels: Buffer;
  readonly truth: Record<string, unknown>;
  readonly seconds: Record<string, number>;
};
export type Studio = { readonly render: (spec: SceneSpec) => Promise<Picture>; readonly close: () => Promise<void> };

type Aruco = { AR: { Dictionary: new (name: string) => { codeList: readonly string[] } } };

/** Bits of the two cards, from the open ARUCO_MIP_36h12 family. */
function markerCodes(): readonly string[] {
  const { AR } = createRequire(import.meta.url)('js-aruco2') as Aruco;
  return new AR.Dictionary('ARUCO_MIP_36h12').codeList.slice(0, 2);
}

async function bundlePage(): Promise<string> {
  const result = await build({
    configFile: false,
    logLevel: 'error',
    build: {
      write: false,
      minify: false,
      target: 'es2022',
      lib: { entry: fileURLToPath(new URL('./page/main.ts', import.meta.url)), formats: ['iife'], name: 'page' },
    },
  });
  const output = (Array.isArray(result) ? result[0] : result) as {
    output: ReadonlyArray<{ type: string; code?: string }>;
  };
  return output.output.find((o) => o.type === 'chunk')?.code ?? '';
}

/** Opens a headless browser with the renderer in it; the pixels come back over a loopback connection. */
export async function openStudio(): Promise<Studio> {
  const code = await bundlePage();
  let received: Buffer | null = null;
  const server = createServer((request, response) => {
    if (request.method === 'POST') {
      const chunks: Buffer[] = [];
      request.on('data', (chunk: Buffer) => chunks.push(chunk));
      request.on('end', () => {
        received = Buffer.concat(chunks);
        response.end();
      });
    } else if (request.url === '/page.js') response.setHeader('content-type', 'text/javascript').end(code);
    else response.setHeader('content-type', 'text/html').end('<!doctype html><script src="/page.js"></script>');
  });
  await new Promise<void>((resolve) => server.listen(0, '127.0.0.1', resolve));
  const address = `http://127.0.0.1:${(server.address() as AddressInfo).port}/`;
  const browser = await chromium.launch({
    executablePath: process.env.CHROMIUM ?? '/usr/bin/chromium',
    args: [
      '--no-sandbox',
      '--disable-gpu',
      '--enable-unsafe-swiftshader',
      '--use-angle=swiftshader',
      '--js-flags=--max-old-space-size=6000',
    ],
  });
  return {
    render: async (spec) => {
      const page = await browser.newPage();
      page.on('console', (m) => {
        if (m.type() === 'error' || m.text().includes('THREE')) process.stderr.write(`page: ${m.text()}\n`);
      });
      await page.goto(address);
      received = null;
      const { truth, seconds } = await page.evaluate(
        ([s, codes]) =>
          (
            globalThis as unknown as {
              makePicture: (spec: unknown, codes: unknown) => Promise<Omit<Picture, 'pixels'>>;
            }
          ).makePicture(s, codes),
        [spec, markerCodes()] as [unknown, unknown],
      );
      await page.close();
      if (received === null) throw new Error(`No pixels came back for ${spec.name}.`);
      return { pixels: received, truth, seconds };
    },
    close: async () => {
      await browser.close();
      server.close();
    },
  };
}
