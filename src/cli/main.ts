#!/usr/bin/env node
import { EXIT } from './exitCodes.ts';
import type { Io } from './io.ts';

const HELP = `rowledger: is my stand good enough?

  rowledger count PHOTO... [options]   count the plants of a row photo (a folder works too)
  rowledger cards --out FILE.pdf       print the marker cards to lay beside the row
  rowledger visit FILE                 the verdict of a field visit: keep, wait or replant
  rowledger serve                      the web page and the archive, on this computer

  rowledger COMMAND --help             the options of one command
`;

type Command = (args: readonly string[], io: Io) => Promise<number>;

const COMMANDS: Readonly<Record<string, () => Promise<Command>>> = {
  count: async () => (await import('./commands/count.ts')).runCount,
  cards: async () => (await import('./commands/cards.ts')).runCards,
  visit: async () => (await import('./commands/visit.ts')).runVisit,
  serve: async () => (await import('./commands/serve.ts')).runServe,
};

async function main(argv: readonly string[]): Promise<number> {
  const io: Io = {
    stdout: (text) => void process.stdout.write(text),
    stderr: (text) => void process.stderr.write(text),
  };
  const [name, ...rest] = argv;
  if (name === undefined || name === '--help' || name === 'help') {
    io.stdout(HELP);
    return name === undefined ? EXIT.usage : EXIT.done;
  }
  const load = Object.hasOwn(COMMANDS, name) ? COMMANDS[name] : undefined;
  if (load === undefined) {
    io.stderr(`rowledger: no command "${name}"; there are ${Object.keys(COMMANDS).join(', ')}\n`);
    return EXIT.usage;
  }
  return (await load())(rest, io);
}

// A reader that stops early (`| head`) is no fault of ours.
process.stdout.on('error', (error: NodeJS.ErrnoException) => {
  if (error.code === 'EPIPE') process.exit(EXIT.done);
});

process.exitCode = await main(process.argv.slice(2));
