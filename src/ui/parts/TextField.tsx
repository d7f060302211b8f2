import { useLayoutEffect, useRef, useState } from 'preact/hooks';
import { isDay } from '../../core/outlook/calendar.ts';
import { withUnit } from './withUnit.ts';

interface TextFieldProps {
  readonly label: string;
  readonly value: string;
  readonly onChange: (value: string) => void;
  /** Says what is wrong with what is typed; null when it is good. Wrong text is shown, and not passed on. */
  readonly problem?: (value: string) => string | null;
  readonly placeholder?: string;
  readonly type?: 'text' | 'date' | 'number';
  readonly list?: string;
  readonly hint?: string;
  /** Brings up the keys for numbers. */
  readonly number?: boolean;
  /** Added to a number typed alone, before it is checked and passed on; shown once the field is left. */
  readonly unit?: string;
}

const FIRST_YEAR = 1990;

/** A year passes through 0002 and 0020 on its way to 2026. */
function dayProblem(text: string): string | null {
  return isDay(text) && Number(text.slice(0, 4)) >= FIRST_YEAR ? null : 'Wanted a day of these years';
}

/** A line of text, kept as it is typed. A day is left to the browser's own field until it is whole. */
export function TextField({
  label,
  value,
  onChange,
  problem,
  placeholder,
  type = 'text',
  list,
  hint,
  number,
  unit,
}: TextFieldProps) {
  const [typed, setTyped] = useState(value);
  const whole = (text: string) => (unit === undefined || text === '' ? text : withUnit(text, unit));
  const problemIn = (text: string) => (type === 'date' ? dayProblem(text) : null) ?? problem?.(text) ?? null;
  const last = useRef(value);
  // Before the next key can come: an effect that runs late would put back what was typed before it.
  useLayoutEffect(() => {
    if (value !== last.current) setTyped(value);
    last.current = value;
  }, [value]);
  const wrong = typed === '' ? null : problemIn(whole(typed));
  const take = (text: string) => {
    setTyped(text);
    const said = whole(text);
    if (said !== '' && problemIn(said) !== null) return;
    last.current = said;
    onChange(said);
  };
  return (
    <label class="line">
      <span>{label}</span>
      <input
        type={type}
        {...(type === 'date' ? { defaultValue: value } : { value: typed })}
        placeholder={placeholder}
        inputMode={number ? 'decimal' : undefined}
        list={list}
        aria-invalid={wrong !== null}
        onInput={(event) => take(event.currentTarget.value)}
        onBlur={() => wrong === null && setTyped(whole(typed))}
      />
      {wrong !== null ? <span class="wrong">{wrong}</span> : hint !== undefined && <span class="small">{hint}</span>}
    </label>
  );
}
