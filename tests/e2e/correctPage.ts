import { mkdtempSync, readFileSync, writeFileSync } from 'node:fs';
import { createServer, type Server } from 'node:http';
import { tmpdir } from 'node:os';
import { extname, join } from 'node:path';
import preact from '@preact/preset-vite';
import { type Browser, chromium } from 'playwright-core';
import { build } from 'vite';
import type { Sample } from './correctSample.ts';

const FLAGS = [
  '--headless',
  '--no-sandbox',
  '--disable-gpu',
  '--disable-quic',
  '--no-first-run',
  '--disable-background-networking',
  '--disable-component-update',
  '--disable-sync',
];
const TYPES: Readonly<Record<string, string>> = {
  '.html': 'text/html',
  '.js': 'text/javascript',
  '.css': 'text/css',
  '.json': 'application/json',
  '.jpg': 'image/jpeg',
};

export interface CorrectPage {
  readonly browser: Browser;
  readonly address: string;
  readonly close: () => Promise<void>;
}

/** Builds the correcting view alone, serves it beside one sample photo, and starts Chromium. */
export async function openCorrectPage(sample: Sample, floorPerM2: number | null): Promise<CorrectPage> {
  const outDir = mkdtempSync(join(tmpdir(), 'correct-view-'));
  await build({
    configFile: false,
    root: join(import.meta.dirname, 'correctHarness'),
    base: './',
    logLevel: 'error',
    plugins: [preact()],
    worker: { format: 'es' },
    build: { outDir, emptyOutDir: true, target: 'es2022', minify: false },
  });
  writeFileSync(join(outDir, 'result.json'), JSON.stringify({ result: sample.result, floorPerM2 }));
  writeFileSync(join(outDir, 'photo.jpg'), sample.jpeg);
  const server: Server = createServer((request, response) => {
    const path = new URL(request.url ?? '/', 'http://localhost').pathname;
    try {
      const bytes = readFileSync(join(outDir, path === '/' ? 'index.html' : path));
      response.writeHead(200, { 'content-type': TYPES[extname(path)] ?? 'text/html' }).end(bytes);
    } catch {
      response.writeHead(404).end();
    }
  });
  await new Promise<void>((resolve) => server.listen(0, '127.0.0.1', resolve));
  const { port } = server.address() as { port: number };
  const browser = await chromium.launch({ executablePath: '/usr/bin/chromium', args: FLAGS });
  return {
    browser,
    address: `http://127.0.0.1:${port}/`,
    close: async () => {
      await browser.close();
      await new Promise((resolve) => server.close(resolve));
    },
  };
}
