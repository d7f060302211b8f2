import { parseArgs } from 'node:util';
import { type CountOptions, DEFAULT_COUNT_OPTIONS, LOOSE_CAMERA_HEIGHT } from '../../core/count/countOptions.ts';
import { cannot, good, type Outcome } from '../../core/faults/outcome.ts';
import type { Vector3 } from '../../core/geometry/point.ts';
import { parseMark, parseReference } from '../../core/reference/parseReference.ts';
import type { ReferenceRequest } from '../../core/reference/reference.ts';
import { parseLength } from '../../core/units/parseLength.ts';

export interface CountArgs {
  readonly photos: readonly string[];
  readonly options: CountOptions;
  readonly model: string;
  /** File of what was learned from a farm's corrections; null: the stock detector. */
  readonly head: string | null;
  readonly json: boolean;
  readonly picture: string | null;
  readonly help: boolean;
}

/** A height that a person gives is good to about this share of it, and never better than 3 cm (1 sd). */
const GIVEN_HEIGHT_SHARE = 0.04;
const GIVEN_HEIGHT_LEAST_SD_M = 0.03;

const OPTIONS = {
  reference: { type: 'string', default: 'auto' },
  mark: { type: 'string', multiple: true, default: [] as string[] },
  'mm-per-px': { type: 'string' },
  'camera-height': { type: 'string' },
  gravity: { type: 'string' },
  stretch: { type: 'string' },
  'row-width': { type: 'string' },
  'seed-spacing': { type: 'string' },
  gap: { type: 'string' },
  model: { type: 'string', default: 'auto' },
  head: { type: 'string' },
  picture: { type: 'string' },
  json: { type: 'boolean', default: false },
  help: { type: 'boolean', default: false },
} as const;

/** `--gravity -0.1,0.7,0.7`: a value may begin with a minus sign, so values are tied to their options first. */
function joined(args: readonly string[]): string[] {
  const out: string[] = [];
  for (let i = 0; i < args.length; i++) {
    const arg = args[i] as string;
    const name = arg.startsWith('--') ? arg.slice(2) : '';
    const option = Object.hasOwn(OPTIONS, name) ? OPTIONS[name as keyof typeof OPTIONS] : undefined;
    const value = args[i + 1];
    if (option?.type === 'string' && value !== undefined && /^-[\d.]/.test(value)) {
      out.push(`${arg}=${value}`);
      i++;
    } else out.push(arg);
  }
  return out;
}

/** Reads the options of `rowledger count`. Refuses, in one line, whatever it does not understand. */
export function parseCountArgs(args: readonly string[]): Outcome<CountArgs> {
  try {
    const { values, positionals } = parseArgs({ args: joined(args), allowPositionals: true, options: OPTIONS });
    if (!values.help && positionals.length === 0) {
      return usage('no photo', 'one photo or more, or a folder', 'rowledger count PHOTO');
    }
    return good({
      photos: positionals,
      options: {
        reference: referenceOf(values.reference, values.mark, values['mm-per-px']),
        cameraHeight: heightOf(values['camera-height']),
        gravity: gravityOf(values.gravity),
        stretch: stretchOf(values.stretch),
        rowWidthM: lengthOf('--row-width', values['row-width']),
        seedSpacingM: lengthOf('--seed-spacing', values['seed-spacing']),
        gapM: lengthOf('--gap', values.gap) ?? DEFAULT_COUNT_OPTIONS.gapM,
      },
      model: values.model,
      head: values.head ?? null,
      json: values.json,
      picture: values.picture ?? null,
      help: values.help,
    });
  } catch (error) {
    if (error instanceof Refusal) return error.outcome;
    return usage(
      (error as Error).message.split('\n')[0] as string,
      'the options that `rowledger count --help` lists',
      'Check the spelling.',
    );
  }
}

/** Carries a plain refusal out of the option readers below. */
class Refusal extends Error {
  constructor(readonly outcome: Extract<Outcome<never>, { ok: false }>) {
    super(outcome.found);
  }
}

function usage(found: string, wanted: string, next: string) {
  return cannot('usage', found, wanted, next);
}

function must<T>(outcome: Outcome<T>): T {
  if (outcome.ok) return outcome.value;
  throw new Refusal(outcome);
}

function refuse(found: string, wanted: string): never {
  throw new Refusal(usage(found, wanted, 'rowledger count --help'));
}

function lengthOf(option: string, text: string | undefined): number | null {
  if (text === undefined) return null;
  const length = must(parseLength(text));
  if (!(length > 0)) refuse(`${option} ${text}`, 'a length above 0 with its unit, such as 30in or 75cm');
  return length;
}

function referenceOf(reference: string, marks: readonly string[], mmPerPx: string | undefined): ReferenceRequest {
  if (marks.length > 0) {
    if (marks.length < 2) refuse('one --mark', 'two marks or more, at different readings');
    const readings = marks.map((text) => must(parseMark(text)));
    if (new Set(readings.map((r) => r.readingM)).size < 2)
      refuse('marks that all give the same reading', 'two readings or more');
    return { kind: 'marks', marks: readings };
  }
  if (mmPerPx !== undefined) {
    const value = Number(mmPerPx);
    if (!(value > 0 && value < 100))
      refuse(`--mm-per-px ${mmPerPx}`, 'millimetres per pixel, a number above 0 and below 100');
    return { kind: 'scale', mmPerPx: value };
  }
  return must(parseReference(reference));
}

function heightOf(text: string | undefined): CountOptions['cameraHeight'] {
  const heightM = lengthOf('--camera-height', text);
  if (heightM === null) return LOOSE_CAMERA_HEIGHT;
  return { heightM, sdM: Math.max(GIVEN_HEIGHT_LEAST_SD_M, GIVEN_HEIGHT_SHARE * heightM), given: true };
}

function gravityOf(text: string | undefined): Vector3 | null {
  if (text === undefined) return null;
  const parts = text.split(',').map(Number);
  const size = Math.hypot(...parts);
  if (parts.length !== 3 || !parts.every(Number.isFinite) || !(size > 1e-6)) {
    refuse(`--gravity ${text}`, 'X,Y,Z: the direction of gravity in camera axes, such as 0,0.7,0.7');
  }
  return [parts[0]! / size, parts[1]! / size, parts[2]! / size];
}

function stretchOf(text: string | undefined): CountOptions['stretch'] {
  if (text === undefined) return null;
  const [from, to, more] = text.split('..');
  if (from === undefined || to === undefined || more !== undefined)
    refuse(`--stretch ${text}`, 'FROM..TO, such as 0ft..10ft');
  const fromM = must(parseLength(from as string));
  const toM = must(parseLength(to as string));
  if (!(toM > fromM)) refuse(`--stretch ${text}`, 'an end beyond its beginning');
  return { fromM, toM };
}
