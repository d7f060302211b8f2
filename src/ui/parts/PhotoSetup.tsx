import { parseReference } from '../../core/reference/parseReference.ts';
import {
  FIRST_SIZES,
  referenceText,
  type SizedKind,
  type SizedReference,
  sizedReference,
  sizedWords,
} from '../edits/sizedReference.ts';
import { saveSettings, settings } from '../state/app.ts';
import { problemOf } from './problemOf.ts';
import { TextField } from './TextField.tsx';

const REFERENCES = [
  ['tape:in', 'Tape in inches'],
  ['tape:cm', 'Tape in centimetres'],
  ['cards', 'Marker cards'],
  ['frame:1mx0.5m', 'Frame 1 m x 0.5 m'],
  ['rod:6ft', 'Rod of 6 ft'],
  ['rod:2m', 'Rod of 2 m'],
  ['auto', 'Find out'],
] as const;

/** Those whose size a person says, with what is asked of them. */
const SIZED: Readonly<Record<SizedKind, readonly [label: string, ...sizes: string[]]>> = {
  tape: ['Tape, by its whole length', 'Length of the tape'],
  rod: ['Rod of another length', 'Length of the rod'],
  bands: ['Rod with bands', 'Length of one band'],
  frame: ['Frame of another size', 'Inside, along', 'Inside, across'],
};

/** What lies beside the row in the photos, remembered from photo to photo. */
export function PhotoSetup() {
  const { reference, from, to, cameraHeight, units } = settings.value;
  const listed = REFERENCES.find(([value]) => value === reference)?.[1];
  const sized = listed === undefined ? sizedReference(reference) : null;
  const named = listed ?? (sized === null ? reference : sizedWords(sized));
  const imperial = units === 'imperial';
  const choose = (value: string) => {
    const kind = value in SIZED ? (value as SizedKind) : null;
    const chosen = kind === null ? value : referenceText({ kind, sizes: FIRST_SIZES[kind][units] });
    void saveSettings({ reference: chosen });
  };
  return (
    <details class="setup">
      <summary>
        Photos: {named}
        {to === '' ? '' : `, ${from || '0'} to ${to}`}
      </summary>
      <label class="line">
        <span>Beside the row lies</span>
        <select value={sized?.kind ?? reference} onChange={(event) => choose(event.currentTarget.value)}>
          {REFERENCES.map(([value, label]) => (
            <option key={value} value={value}>
              {label}
            </option>
          ))}
          {Object.entries(SIZED).map(([kind, [label]]) => (
            <option key={kind} value={kind}>
              {label}
            </option>
          ))}
        </select>
      </label>
      {sized !== null && <Sizes sized={sized} unit={imperial ? 'ft' : sized.kind === 'bands' ? 'cm' : 'm'} />}
      <div class="two">
        <TextField
          label="Count from"
          value={from}
          problem={problemOf('length')}
          unit={imperial ? 'ft' : 'm'}
          placeholder={imperial ? '0 ft' : '0 m'}
          onChange={(text) => void saveSettings({ from: text })}
        />
        <TextField
          label="Count to"
          value={to}
          problem={problemOf('length')}
          unit={imperial ? 'ft' : 'm'}
          placeholder={imperial ? '10 ft' : '3 m'}
          onChange={(text) => void saveSettings({ to: text })}
        />
      </div>
      <TextField
        label="Camera height, if measured"
        value={cameraHeight}
        problem={problemOf('length')}
        unit={imperial ? 'ft' : 'm'}
        placeholder={imperial ? '5 ft' : '1.5 m'}
        onChange={(text) => void saveSettings({ cameraHeight: text })}
      />
    </details>
  );
}

/** The size of what lies there, each length with its unit; what is no length is told, and the one before stays. */
function Sizes({ sized, unit }: { sized: SizedReference; unit: string }) {
  const [, ...asked] = SIZED[sized.kind];
  const withSize = (i: number, text: string) =>
    referenceText({ ...sized, sizes: asked.map((_, k) => (k === i ? text : (sized.sizes[k] ?? ''))) });
  return (
    <div class={asked.length > 1 ? 'two' : ''}>
      {asked.map((label, i) => (
        <TextField
          key={`${sized.kind} ${label}`}
          label={label}
          value={sized.sizes[i] ?? ''}
          unit={unit}
          problem={(text) => (parseReference(withSize(i, text)).ok ? null : `Wanted a length, such as 2 ${unit}`)}
          onChange={(text) => void (text !== '' && saveSettings({ reference: withSize(i, text) }))}
        />
      ))}
    </div>
  );
}
