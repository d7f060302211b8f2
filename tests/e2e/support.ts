import { mkdirSync, mkdtempSync, rmSync } from 'node:fs';
import { createConnection, createServer, type Socket } from 'node:net';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { type BrowserContext, type BrowserContextOptions, chromium, type Page } from 'playwright-core';
import { createApp } from '../../src/server/app.ts';
import { loadDemo } from '../../src/server/demo/loadDemo.ts';
import { loadDemoPhotos } from '../../src/server/demo/loadDemoPhotos.ts';
import { listen } from '../../src/server/listen.ts';
import { openArchive } from '../../src/server/openArchive.ts';
import { builtUi } from '../../src/server/packageRoot.ts';

/** A phone held upright. */
export const PHONE = { width: 360, height: 740 };
const ARTIFACTS = 'artifacts/e2e';

/** A running server on a folder of its own, with the built page. */
export async function startServer(options: { readonly demo: boolean }) {
  const uiFolder = builtUi();
  if (uiFolder === null) throw new Error('the page is not built: run npm run build first');
  const folder = temporary('server');
  const archive = await openArchive(folder);
  if (options.demo) {
    await loadDemo(archive);
    await loadDemoPhotos(archive);
  }
  const reported: unknown[] = [];
  const app = createApp({
    ...archive,
    token: null,
    hosts: ['127.0.0.1'],
    uiFolder,
    version: '0.0.0',
    report: (error) => reported.push(error),
  });
  const listening = await listen(app, { host: '127.0.0.1', port: 0, tls: null });
  return {
    app,
    archive,
    reported,
    address: listening.address,
    get: async (path: string) => (await (await fetch(listening.address + path)).json()) as never,
    close: async () => {
      await listening.close();
      await archive.close();
      rmSync(folder, { recursive: true, force: true });
    },
  };
}

/** A browser profile on the disk: what a phone keeps when it is switched off. */
export function newProfile(): string {
  return temporary('profile');
}

export async function openBrowser(
  profile: string,
  options: Pick<BrowserContextOptions, 'viewport' | 'serviceWorkers' | 'reducedMotion'> = {},
): Promise<BrowserContext> {
  const context = await chromium.launchPersistentContext(profile, {
    executablePath: process.env.CHROMIUM ?? '/usr/bin/chromium',
    headless: true,
    viewport: PHONE,
    ...options,
    hasTouch: true,
    args: [
      '--headless',
      '--no-sandbox',
      '--disable-gpu',
      '--disable-quic',
      '--no-first-run',
      '--disable-background-networking',
      '--disable-component-update',
      '--disable-sync',
    ],
  });
  context.setDefaultTimeout(60_000);
  return context;
}

/** Errors of a page that nobody asked for. */
export function watchErrors(page: Page): string[] {
  const errors: string[] = [];
  page.on('pageerror', (error) => errors.push(String(error)));
  page.on('console', (message) => {
    if (message.type() === 'error' && !/Failed to load resource|net::ERR/.test(message.text())) {
      errors.push(message.text());
    }
  });
  return errors;
}

export async function shot(page: Page, name: string, fullPage = true): Promise<void> {
  mkdirSync(ARTIFACTS, { recursive: true });
  await page.screenshot({ path: join(ARTIFACTS, `${name}.png`), fullPage });
}

/** A line to a server that can be cut, and that drops every connection once so many bytes went up. */
export async function breakingLine(address: string) {
  const target = new URL(address);
  const open = new Set<Socket>();
  let drops: number[] = [];
  let dropped = 0;
  let sent = 0;
  let isCut = false;
  const server = createServer((client) => {
    if (isCut) return client.destroy();
    const upstream = createConnection(Number(target.port), target.hostname);
    open.add(client).add(upstream);
    const end = () => {
      client.destroy();
      upstream.destroy();
      open.delete(client);
      open.delete(upstream);
    };
    client.on('data', (bytes: Buffer) => {
      const next = drops[0];
      if (next !== undefined && sent + bytes.length >= next) {
        upstream.write(bytes.subarray(0, Math.max(0, next - sent)));
        sent = next;
        drops.shift();
        dropped++;
        for (const socket of open) socket.destroy();
        return;
      }
      sent += bytes.length;
      upstream.write(bytes);
    });
    upstream.on('data', (bytes) => client.write(bytes));
    for (const socket of [client, upstream]) socket.on('close', end).on('error', end);
  });
  await new Promise<void>((resolve) => server.listen(0, '127.0.0.1', resolve));
  const { port } = server.address() as { port: number };
  return {
    address: `http://127.0.0.1:${port}`,
    dropped: () => dropped,
    sentBytes: () => sent,
    cut: () => {
      isCut = true;
      for (const socket of open) socket.destroy();
    },
    /** Carries again; drops when so many more bytes went up. */
    mend: (dropsAtBytes: readonly number[]) => {
      isCut = false;
      drops = dropsAtBytes.map((at) => sent + at);
    },
    close: () => {
      for (const socket of open) socket.destroy();
      return new Promise<void>((resolve) => server.close(() => resolve()));
    },
  };
}

function temporary(what: string): string {
  return mkdtempSync(join(tmpdir(), `rowledger-e2e-${what}-`));
}
