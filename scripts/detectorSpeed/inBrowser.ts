import { createReadStream, existsSync, mkdtempSync, rmSync } from 'node:fs';
import { createServer } from 'node:http';
import type { AddressInfo } from 'node:net';
import { tmpdir } from 'node:os';
import { basename, extname, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { chromium } from 'playwright-core';
import { build } from 'vite';
import type { Measured, Trial } from './trial.ts';

const ENGINE = 'node_modules/onnxruntime-web/dist';
const TYPES: Readonly<Record<string, string>> = {
  '.js': 'text/javascript',
  '.mjs': 'text/javascript',
  '.wasm': 'application/wasm',
  '.html': 'text/html',
};
/** A graphics processor drawn by the CPU: shows that the path works, says nothing of speed. */
const SOFT_GPU = ['--enable-unsafe-webgpu', '--use-webgpu-adapter=swiftshader'];

/** Headless Chromium whose cross-origin isolated pages run trials, one after another in the same page. */
export async function openBrowser(softGpu: boolean) {
  const folder = mkdtempSync(join(tmpdir(), 'rowledger-speed-'));
  await build({
    configFile: false,
    logLevel: 'error',
    resolve: { conditions: ['onnxruntime-web-use-extern-wasm', 'module', 'browser', 'import', 'default'] },
    worker: { format: 'es' },
    build: {
      outDir: folder,
      target: 'es2022',
      lib: { entry: fileURLToPath(new URL('./page.ts', import.meta.url)), formats: ['es'], fileName: 'page' },
    },
  });
  const server = createServer((request, response) => {
    const name = basename(new URL(request.url ?? '/', 'http://localhost').pathname);
    response.setHeader('Cross-Origin-Opener-Policy', 'same-origin');
    response.setHeader('Cross-Origin-Embedder-Policy', 'require-corp');
    const path = [
      join(folder, name),
      join(folder, 'assets', name),
      join(ENGINE, name),
      join('src/browser', name),
      ...(name === 'model.onnx' ? ['models/seedlings.onnx'] : []),
    ].find((candidate) => name !== '' && existsSync(candidate));
    response.setHeader(
      'Content-Type',
      TYPES[extname(name)] ?? (name === '' ? 'text/html' : 'application/octet-stream'),
    );
    if (path === undefined) response.end('<!doctype html><script type="module" src="/page.js"></script>');
    else createReadStream(path).pipe(response);
  });
  await new Promise<void>((resolve) => server.listen(0, '127.0.0.1', resolve));
  const browser = await chromium.launch({
    executablePath: process.env.CHROMIUM ?? '/usr/bin/chromium',
    args: ['--no-sandbox', '--disable-gpu', ...(softGpu ? SOFT_GPU : [])].filter(
      (flag) => !softGpu || flag !== '--disable-gpu',
    ),
  });
  return {
    measure: async (trials: readonly Trial[]): Promise<Measured[]> => {
      const page = await browser.newPage();
      page.setDefaultTimeout(300_000);
      await page.goto(`http://127.0.0.1:${(server.address() as AddressInfo).port}/`);
      await page.waitForFunction(() => 'measure' in globalThis);
      const measured: Measured[] = [];
      for (const trial of trials) {
        measured.push(
          await page.evaluate(
            (one) => (globalThis as unknown as { measure: (trial: Trial) => Promise<Measured> }).measure(one),
            trial,
          ),
        );
      }
      await page.close();
      return measured;
    },
    close: async () => {
      await browser.close();
      server.close();
      rmSync(folder, { recursive: true, force: true });
    },
  };
}
