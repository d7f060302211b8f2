import { inOneLine } from '../../core/faults/outcome.ts';
import { parseReference } from '../../core/reference/parseReference.ts';
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

/** What lies beside the row in the photos, remembered from photo to photo. */
export function PhotoSetup() {
  const { reference, from, to, cameraHeight, units } = settings.value;
  const named = REFERENCES.find(([value]) => value === reference)?.[1] ?? reference;
  const imperial = units === 'imperial';
  return (
    <details class="setup">
      <summary>
        Photos: {named}
        {to === '' ? '' : `, ${from || '0'} to ${to}`}
      </summary>
      <label class="line">
        <span>Beside the row lies</span>
        <select value={reference} onChange={(event) => void saveSettings({ reference: event.currentTarget.value })}>
          {REFERENCES.map(([value, label]) => (
            <option key={value} value={value}>
              {label}
            </option>
          ))}
          {!REFERENCES.some(([value]) => value === reference) && <option value={reference}>{reference}</option>}
        </select>
      </label>
      <TextField
        label="Or another, with its size"
        value=""
        placeholder="rod:8ft"
        hint="rod:8ft, rod:banded:1ft, frame:2ftx2ft or tape:10ft"
        problem={(text) => {
          const read = parseReference(text);
          return read.ok ? null : inOneLine(read);
        }}
        onChange={(text) => void (text !== '' && saveSettings({ reference: text }))}
      />
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
