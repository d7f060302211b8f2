import { createServer as createHttpServer } from 'node:http';
import { createServer as createHttpsServer } from 'node:https';
import type { AddressInfo } from 'node:net';
import { serve } from '@hono/node-server';

export interface ListenOptions {
  readonly host: string;
  /** 0: any free one. */
  readonly port: number;
  readonly tls: { readonly cert: Buffer; readonly key: Buffer } | null;
}

export interface Listening {
  readonly address: string;
  /** Answers what has been asked, then ends. */
  readonly close: () => Promise<void>;
}

/** How long a running answer may take once the server was told to stop, ms. */
const GRACE_MS = 5000;

/** The only place that opens a port. */
export function listen(
  app: { fetch: Parameters<typeof serve>[0]['fetch'] },
  options: ListenOptions,
): Promise<Listening> {
  const { host, port, tls } = options;
  return new Promise((resolve, reject) => {
    const secure =
      tls === null ? { createServer: createHttpServer } : { createServer: createHttpsServer, serverOptions: tls };
    const server = serve({ fetch: app.fetch, hostname: host, port, ...secure }, (info: AddressInfo) => {
      const shown = host.includes(':') ? `[${host}]` : host;
      resolve({ address: `${tls === null ? 'http' : 'https'}://${shown}:${info.port}`, close });
    });
    server.on('error', reject);
    const close = () =>
      new Promise<void>((done) => {
        server.close(() => done());
        if ('closeIdleConnections' in server) server.closeIdleConnections();
        setTimeout(() => 'closeAllConnections' in server && server.closeAllConnections(), GRACE_MS).unref();
      });
  });
}
