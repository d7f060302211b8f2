import { cannot, good, type Outcome } from '../faults/outcome.ts';
import { parseLength } from '../units/parseLength.ts';
import type { Reading, ReferenceRequest } from './reference.ts';

const WANTED =
  'auto, tape:in, tape:cm, tape:LENGTH, rod:LENGTH, rod:banded:LENGTH, frame:LENGTHxLENGTH or cards (a LENGTH carries its unit: 10ft, 2m, 30in)';

/** Reads what a person typed for the reference in the photo, such as `tape:in`, `rod:6ft`, `frame:1mx0.5m`. */
export function parseReference(text: string): Outcome<ReferenceRequest> {
  const wrong = () => cannot('reference', `"${text}" is no reference`, WANTED, 'Say what lies beside the row.');
  if (text === 'auto' || text === 'cards') return good({ kind: text });
  const [kind, ...rest] = text.split(':');
  const value = rest.join(':');
  if (kind === 'tape' && (value === 'in' || value === 'cm')) return good({ kind: 'tape', graduations: value });
  if (kind === 'tape' || kind === 'rod') {
    const banded = kind === 'rod' && value.startsWith('banded:');
    const length = parseLength(banded ? value.slice('banded:'.length) : value);
    if (!length.ok) return wrong();
    if (!(length.value > 0)) return wrong();
    if (banded) return good({ kind: 'rod', bandM: length.value });
    return good(kind === 'tape' ? { kind: 'tape', lengthM: length.value } : { kind: 'rod', lengthM: length.value });
  }
  if (kind === 'frame') {
    const sides = splitSides(value).map(parseLength);
    const [along, across] = sides;
    if (sides.length === 2 && along?.ok && across?.ok && along.value > 0 && across.value > 0) {
      return good({ kind: 'frame', alongM: along.value, acrossM: across.value });
    }
  }
  return wrong();
}

/** Reads one hand mark, `X,Y=LENGTH`: the photo pixel X,Y lies at this reading. */
export function parseMark(text: string): Outcome<Reading> {
  const m = /^\s*(-?[\d.]+)\s*,\s*(-?[\d.]+)\s*=\s*(.+)$/.exec(text);
  const length = m === null ? null : parseLength(m[3] as string);
  const [x, y] = [Number(m?.[1]), Number(m?.[2])];
  if (length?.ok && Number.isFinite(x) && Number.isFinite(y)) {
    return good({ xPx: x, yPx: y, readingM: length.value });
  }
  return cannot(
    'mark',
    `"${text}" is no mark`,
    'X,Y=LENGTH, for example 812,1440=3ft',
    'Give pixels and a reading with its unit.',
  );
}

/** `1mx0.5m`, `1 m x 50 cm`: the x stands between a unit or space and a digit. */
function splitSides(value: string): string[] {
  return value.split(/\s*[x×]\s*(?=[\d.])/);
}
