import { parseArgs } from 'node:util';
import { cannot, good, type Outcome } from '../../core/faults/outcome.ts';

export interface ServeArgs {
  readonly help: boolean;
  readonly data: string;
  readonly host: string;
  readonly port: number;
  readonly demo: boolean;
  readonly token: string | null;
  readonly cert: string | null;
  readonly key: string | null;
}

export const DEFAULT_PORT = 8417;
/** Long enough not to be guessed at ten tries a minute. */
const SHORTEST_TOKEN = 12;

export const SERVE_HELP = `rowledger serve: the web page and the archive, on this computer

  --data DIR         where everything is kept (rowledger-data; with --demo alone: rowledger-demo)
  --host ADDRESS     who can reach it (127.0.0.1: this computer only; 0.0.0.0: the network, needs a passphrase)
  --port N           ${DEFAULT_PORT}; 0 for any free one
  --token WORDS      the passphrase everybody must give, at least ${SHORTEST_TOKEN} characters (or ROWLEDGER_TOKEN)
  --cert FILE --key FILE   serve over TLS: phones open the camera and keep the page offline only then
  --demo             with an invented farm to try things on
`;

const LOOPBACK = new Set(['127.0.0.1', 'localhost', '::1']);

export function isLoopback(host: string): boolean {
  return LOOPBACK.has(host);
}

/** Reads the options of `rowledger serve`. A server that others can reach needs a passphrase. */
export function parseServeArgs(
  args: readonly string[],
  env: Readonly<Record<string, string | undefined>>,
): Outcome<ServeArgs> {
  const bad = (found: string, wanted: string) => cannot('usage', found, wanted, 'See rowledger serve --help.');
  let values: ReturnType<typeof readOptions>;
  try {
    values = readOptions(args);
  } catch (error) {
    return bad((error as Error).message.split('. ')[0] ?? 'wrong options', 'the options listed in the help');
  }
  const port = Number(values.port ?? DEFAULT_PORT);
  if (!Number.isInteger(port) || port < 0 || port > 65_535) return bad(`--port ${values.port}`, '0 to 65535');
  const token = values.token ?? env.ROWLEDGER_TOKEN ?? null;
  if (token !== null && token.length < SHORTEST_TOKEN) {
    return bad(`a passphrase of ${token.length} characters`, `at least ${SHORTEST_TOKEN}`);
  }
  const host = values.host ?? '127.0.0.1';
  if (!isLoopback(host) && token === null) {
    return bad(`--host ${host}, which others can reach, without a passphrase`, '--token WORDS as well');
  }
  const [cert, key] = [values.cert ?? null, values.key ?? null];
  if ((cert === null) !== (key === null)) return bad('one of --cert and --key', 'both or none');
  const demo = values.demo ?? false;
  const data = values.data ?? (demo ? 'rowledger-demo' : 'rowledger-data');
  return good({ help: values.help ?? false, data, host, port, demo, token, cert, key });
}

function readOptions(args: readonly string[]) {
  return parseArgs({
    args: [...args],
    options: {
      help: { type: 'boolean' },
      data: { type: 'string' },
      host: { type: 'string' },
      port: { type: 'string' },
      demo: { type: 'boolean' },
      token: { type: 'string' },
      cert: { type: 'string' },
      key: { type: 'string' },
    },
    strict: true,
    allowPositionals: false,
  }).values;
}
