interface ChoiceProps<T extends string> {
  readonly label: string;
  readonly options: readonly (readonly [value: T, label: string])[];
  readonly value: T | null;
  /** Null: tapped again, taken back. */
  readonly onChange: (value: T | null) => void;
}

/** One of a few, by thumb; a second tap takes it back. */
export function Choice<T extends string>({ label, options, value, onChange }: ChoiceProps<T>) {
  return (
    <fieldset class="choice">
      <legend>{label}</legend>
      {options.map(([option, says]) => (
        <button
          type="button"
          key={option}
          aria-pressed={value === option}
          onClick={() => onChange(value === option ? null : option)}
        >
          {says}
        </button>
      ))}
    </fieldset>
  );
}
