import { writeFile } from 'node:fs/promises';
import { parseArgs } from 'node:util';
import { cardsPdf, PAPERS, type Paper } from '../../node/cardsPdf.ts';
import { EXIT } from '../exitCodes.ts';
import type { Io } from '../io.ts';

const HELP = `rowledger cards --out FILE.pdf [--paper letter|a4]

Writes printable marker cards. Print at 100 % ("actual size"), measure the bar on the page, lay card 0 at the start and
card 1 at the end of the stretch, flat beside the row, and photograph both. 2 and 3 are spare, for long stretches.

  --out FILE.pdf       where to write
  --paper letter|a4    sheet, default letter
`;

/** `rowledger cards`: writes the printable marker cards. */
export async function runCards(args: readonly string[], io: Io): Promise<number> {
  let out: string | undefined;
  let paper: string;
  try {
    const { values } = parseArgs({
      args: [...args],
      options: {
        out: { type: 'string', short: 'o' },
        paper: { type: 'string', default: 'letter' },
        help: { type: 'boolean', short: 'h', default: false },
      },
    });
    if (values.help) {
      io.stdout(HELP);
      return EXIT.done;
    }
    ({ out } = values);
    paper = values.paper.toLowerCase();
  } catch (error) {
    return usage(io, error instanceof Error ? (error.message.split('\n')[0] ?? '') : String(error));
  }
  if (out === undefined || out === '') return usage(io, 'no file to write to: give --out FILE.pdf');
  if (!isPaper(paper)) return usage(io, `"${paper}" is no paper: letter or a4`);
  try {
    await writeFile(out, await cardsPdf(paper, new Date()));
  } catch (error) {
    const why = error instanceof Error ? error.message : String(error);
    return usage(io, `could not write ${out} (${why}): give --out a file in a folder that exists`);
  }
  io.stderr(`wrote ${out}: print at 100 % on ${PAPERS[paper].name} and measure the bar\n`);
  return EXIT.done;
}

function isPaper(text: string): text is Paper {
  return Object.hasOwn(PAPERS, text);
}

function usage(io: Io, message: string): number {
  io.stderr(`rowledger cards: ${message}\n`);
  return EXIT.usage;
}
