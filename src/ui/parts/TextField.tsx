import { useEffect, useRef, useState } from 'preact/hooks';

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
}

/** A line of text, kept as it is typed. */
export function TextField({ label, value, onChange, problem, placeholder, type = 'text', list, hint }: TextFieldProps) {
  const [typed, setTyped] = useState(value);
  const last = useRef(value);
  useEffect(() => {
    if (value !== last.current) setTyped(value);
    last.current = value;
  }, [value]);
  const wrong = typed === '' ? null : (problem?.(typed) ?? null);
  const take = (text: string) => {
    setTyped(text);
    if (text !== '' && problem !== undefined && problem(text) !== null) return;
    last.current = text;
    onChange(text);
  };
  return (
    <label class="line">
      <span>{label}</span>
      <input
        type={type}
        value={typed}
        placeholder={placeholder}
        list={list}
        aria-invalid={wrong !== null}
        onInput={(event) => take(event.currentTarget.value)}
      />
      {wrong !== null ? <span class="wrong">{wrong}</span> : hint !== undefined && <span class="small">{hint}</span>}
    </label>
  );
}
