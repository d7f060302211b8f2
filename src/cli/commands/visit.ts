import { readFile, writeFile } from 'node:fs/promises';
import { text as readStream } from 'node:stream/consumers';
import { parseArgs } from 'node:util';
import type { Cannot, Outcome } from '../../core/faults/outcome.ts';
import { cannot, good, inOneLine } from '../../core/faults/outcome.ts';
import { explainPage } from '../../core/report/explainPage.ts';
import { verdictHtml } from '../../core/report/verdictHtml.ts';
import { verdictPage } from '../../core/report/verdictPage.ts';
import type { TargetRow } from '../../core/targets/targetRow.ts';
import { TARGET_ROWS } from '../../core/targets/targetRows.ts';
import { type FieldMoments, fieldMoments } from '../../core/visit/assessPrecision.ts';
import { assessVisit } from '../../core/visit/assessVisit.ts';
import { countsFromCsv } from '../../core/visit/countsFromCsv.ts';
import { DEMO_VISITS } from '../../core/visit/demo/demoVisits.ts';
import { readVisit, readVisitText } from '../../core/visit/readVisit.ts';
import { spotCounts } from '../../core/visit/spotCounts.ts';
import { readTargetsText } from '../../core/visit/targetsDocument.ts';
import type { VisitDocument } from '../../core/visit/visitSchema.ts';
import { weatherFromCsv } from '../../core/visit/weatherFromCsv.ts';
import { EXIT } from '../exitCodes.ts';
import type { Io } from '../io.ts';
import { VISIT_HELP } from './visitHelp.ts';

/** `rowledger visit`: prints the verdict of a visit document. Resolves to the exit status. */
export async function runVisit(args: readonly string[], io: Io): Promise<number> {
  const options = readArgs(args);
  if (!options.ok) return fail(io, options, EXIT.usage);
  const { file, flags } = options.value;
  if (flags.help === true) {
    io.stdout(VISIT_HELP);
    return EXIT.done;
  }
  if (file === null) return flags.demo === true ? listDemo(io) : countsAlone(flags, io);

  const visit = flags.demo === true ? demoVisit(file) : await visitFrom(file);
  if (!visit.ok) return fail(io, visit, flags.demo === true ? EXIT.usage : EXIT.unreadable);
  const whole = await withTables(visit.value, flags);
  if (!whole.ok) return fail(io, whole, EXIT.unreadable);

  if (flags.out !== undefined) {
    try {
      await writeFile(flags.out, `${JSON.stringify(whole.value, null, 2)}\n`, { flag: 'wx' });
    } catch (error) {
      return fail(io, unwritable(flags.out, error), EXIT.unreadable);
    }
  }
  const before = await fieldsBefore(whole.value, flags);
  if (!before.ok) return fail(io, before, EXIT.unreadable);
  const targets = flags.targets === undefined ? good(TARGET_ROWS) : await targetsFrom(flags.targets);
  if (!targets.ok) return fail(io, targets, EXIT.unreadable);
  const assessment = assessVisit(whole.value, { before: before.value, targets: targets.value });
  if (flags.json === true) io.stdout(`${JSON.stringify(assessment)}\n`);
  else if (flags.html === true) io.stdout(verdictHtml(assessment, { explain: flags.explain === true }));
  else {
    io.stdout(verdictPage(assessment));
    if (flags.explain === true) io.stdout(`\n${explainPage(assessment)}`);
  }
  return EXIT.done;
}

interface Flags {
  readonly help?: boolean | undefined;
  readonly json?: boolean | undefined;
  readonly explain?: boolean | undefined;
  readonly html?: boolean | undefined;
  readonly demo?: boolean | undefined;
  readonly csv?: string | undefined;
  readonly temperatures?: string | undefined;
  readonly out?: string | undefined;
  readonly before?: readonly string[] | undefined;
  readonly targets?: string | undefined;
}

function readArgs(args: readonly string[]): Outcome<{ readonly file: string | null; readonly flags: Flags }> {
  try {
    const { values, positionals } = parseArgs({
      args: [...args],
      allowPositionals: true,
      options: {
        help: { type: 'boolean' },
        json: { type: 'boolean' },
        explain: { type: 'boolean' },
        html: { type: 'boolean' },
        demo: { type: 'boolean' },
        csv: { type: 'string' },
        temperatures: { type: 'string' },
        out: { type: 'string' },
        before: { type: 'string', multiple: true },
        targets: { type: 'string' },
      },
    });
    const usage = (found: string, wanted: string) => cannot('usage', found, wanted, 'See rowledger visit --help.');
    if (positionals.length > 1) return usage(`${positionals.length} files`, 'one visit file');
    if (values.json === true && values.html === true) return usage('--json and --html', 'one of them');
    if (positionals.length === 0 && values.help !== true && values.demo !== true && values.csv === undefined) {
      return usage('no visit file', 'rowledger visit FILE');
    }
    return good({ file: positionals[0] ?? null, flags: values });
  } catch (error) {
    const found = error instanceof Error ? error.message.split('. ')[0]! : String(error);
    return cannot('usage', found, 'options of rowledger visit', 'See rowledger visit --help.');
  }
}

async function visitFrom(file: string): Promise<Outcome<VisitDocument>> {
  const text = await readText(file);
  return text.ok ? readVisitText(text.value) : text;
}

/** The visit with the tables named on the command line added, checked again as a whole. */
async function withTables(visit: VisitDocument, flags: Flags): Promise<Outcome<VisitDocument>> {
  let whole = visit;
  if (flags.csv !== undefined) {
    const text = await readText(flags.csv);
    const spots = text.ok ? countsFromCsv(text.value) : text;
    if (!spots.ok) return spots;
    whole = { ...whole, spots: [...whole.spots, ...spots.value] };
  }
  if (flags.temperatures !== undefined) {
    const text = await readText(flags.temperatures);
    const days = text.ok ? weatherFromCsv(text.value) : text;
    if (!days.ok) return days;
    whole = { ...whole, weather: { ...whole.weather, days: [...(whole.weather?.days ?? []), ...days.value] } };
  }
  return whole === visit ? good(visit) : readVisit(whole);
}

/** Spread of the fields counted before, for Taylor's power law; with --demo, of the other demonstration fields. */
async function fieldsBefore(visit: VisitDocument, flags: Flags): Promise<Outcome<readonly FieldMoments[]>> {
  const others: VisitDocument[] = flags.demo === true ? DEMO_VISITS.filter((other) => other.id !== visit.id) : [];
  for (const file of flags.before ?? []) {
    const read = await visitFrom(file);
    if (!read.ok) return { ...read, found: `${file}: ${read.found}` };
    others.push(read.value);
  }
  return good(others.flatMap((other) => fieldMoments(spotCounts(other)) ?? []));
}

async function targetsFrom(file: string): Promise<Outcome<readonly TargetRow[]>> {
  const text = await readText(file);
  return text.ok ? readTargetsText(text.value) : text;
}

async function countsAlone(flags: Flags, io: Io): Promise<number> {
  const text = await readText(flags.csv ?? '-');
  const spots = text.ok ? countsFromCsv(text.value) : text;
  if (!spots.ok) return fail(io, spots, EXIT.unreadable);
  io.stdout(`${JSON.stringify(spots.value, null, 2)}\n`);
  return EXIT.done;
}

function listDemo(io: Io): number {
  for (const visit of DEMO_VISITS) io.stdout(`${visit.field.name}\n`);
  return EXIT.done;
}

function demoVisit(name: string): Outcome<VisitDocument> {
  const found = DEMO_VISITS.find((visit) => visit.field.name.toLowerCase() === name.toLowerCase());
  const names = DEMO_VISITS.map((visit) => visit.field.name).join(', ');
  return found === undefined
    ? cannot('no demo', `no demonstration field "${name}"`, names, 'Name one of them.')
    : good(found);
}

async function readText(file: string): Promise<Outcome<string>> {
  try {
    return good(file === '-' ? await readStream(process.stdin) : await readFile(file, 'utf8'));
  } catch (error) {
    const why = error instanceof Error && 'code' in error ? String(error.code) : String(error);
    const found =
      why === 'ENOENT' ? `no file "${file}"` : why === 'EISDIR' ? `"${file}" is a folder` : `"${file}" (${why})`;
    return cannot('unreadable', found, 'a file that can be read', 'Check the name.');
  }
}

function unwritable(file: string, error: unknown): Cannot {
  const why = error instanceof Error && 'code' in error ? String(error.code) : String(error);
  return cannot(
    'unwritable',
    why === 'EEXIST' ? `"${file}" is there already` : `"${file}" cannot be written (${why})`,
    'the name of a new file',
    'Choose another name.',
  );
}

function fail(io: Io, refusal: Cannot, status: number): number {
  io.stderr(`rowledger visit: ${inOneLine(refusal)}\n`);
  return status;
}
