import { readFile } from 'node:fs/promises';
import { inOneLine } from '../../core/faults/outcome.ts';
import { createApp } from '../../server/app.ts';
import { loadDemo } from '../../server/demo/loadDemo.ts';
import { loadDemoPhotos } from '../../server/demo/loadDemoPhotos.ts';
import { asFault } from '../../server/faults.ts';
import { listen } from '../../server/listen.ts';
import { type Archive, openArchive } from '../../server/openArchive.ts';
import { builtUi, packageVersion } from '../../server/packageRoot.ts';
import { EXIT } from '../exitCodes.ts';
import type { Io } from '../io.ts';
import { isLoopback, parseServeArgs, SERVE_HELP, type ServeArgs } from './parseServeArgs.ts';

/** `rowledger serve`: runs until it is told to stop (Ctrl+C or SIGTERM), then ends in order. */
export async function runServe(args: readonly string[], io: Io): Promise<number> {
  const parsed = parseServeArgs(args, process.env);
  if (!parsed.ok) {
    io.stderr(`rowledger serve: ${inOneLine(parsed)}\n`);
    return EXIT.usage;
  }
  if (parsed.value.help) {
    io.stdout(SERVE_HELP);
    return EXIT.done;
  }
  let archive: Archive | null = null;
  try {
    archive = await openArchive(parsed.value.data);
    return await run(parsed.value, archive, io);
  } catch (error) {
    io.stderr(`rowledger serve: ${inWords(error, parsed.value)}\n`);
    return EXIT.failed;
  } finally {
    await archive?.close();
  }
}

async function run(args: ServeArgs, archive: Archive, io: Io): Promise<number> {
  const { host, token } = args;
  if (args.demo && !(await loadDemo(archive))) {
    io.stderr(
      `rowledger serve: ${args.data} holds other data; wanted: an empty folder for --demo. Leave out --data.\n`,
    );
    return EXIT.usage;
  }
  if (args.demo) await loadDemoPhotos(archive);
  const uiFolder = builtUi();
  const app = createApp({
    ...archive,
    token,
    // Behind a passphrase any name will do (a proxy may give it one); without, only this computer's own.
    hosts: token === null ? ['localhost', '127.0.0.1', '::1'] : null,
    uiFolder,
    version: packageVersion(),
    report: (error) => io.stderr(`${error instanceof Error ? (error.stack ?? error.message) : String(error)}\n`),
  });
  const tls =
    args.cert === null || args.key === null ? null : { cert: await readFile(args.cert), key: await readFile(args.key) };
  const server = await listen(app, { host, port: args.port, tls });
  io.stdout(`${server.address}\n`);
  io.stderr(`Archive: ${archive.folder}\nInterface for programs: ${server.address}/docs\n`);
  if (uiFolder === null) io.stderr('The web page has not been built: run npm run build.\n');
  if (!isLoopback(host)) io.stderr(openToOthers(tls !== null));
  await stopSignal();
  io.stderr('Stopping.\n');
  await server.close();
  return EXIT.done;
}

function openToOthers(hasTls: boolean): string {
  const all = 'Anybody on this network who knows the passphrase can read and change this archive.\n';
  if (hasTls) return all;
  return `${all}Without --cert and --key the passphrase and the photos travel unencrypted, and phones will not open the camera.\n`;
}

function stopSignal(): Promise<void> {
  return new Promise((resolve) => {
    process.once('SIGINT', () => resolve());
    process.once('SIGTERM', () => resolve());
  });
}

function inWords(error: unknown, { host, port }: ServeArgs): string {
  const code = error instanceof Error && 'code' in error ? String(error.code) : '';
  if (code === 'EADDRINUSE') return `port ${port} is taken; wanted: a free one. Choose another with --port.`;
  if (code === 'EADDRNOTAVAIL') return `${host} is no address of this computer. Leave out --host.`;
  if (/^E[A-Z]+$/.test(code)) return `${(error as Error).message}. Check the path and its permissions.`;
  return asFault(error).message + (error instanceof Error && !('fault' in error) ? ` (${error.message})` : '');
}
