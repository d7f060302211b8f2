interface StepperProps {
  readonly label: string;
  readonly value: number;
  readonly onChange: (value: number) => void;
}

/** A number by thumb: less, more. */
export function Stepper({ label, value, onChange }: StepperProps) {
  return (
    <fieldset class="stepper">
      <legend>{label}</legend>
      <button
        type="button"
        aria-label={`${label}: one less`}
        disabled={value === 0}
        onClick={() => onChange(value - 1)}
      >
        &minus;
      </button>
      <output aria-live="polite">{value}</output>
      <button type="button" aria-label={`${label}: one more`} onClick={() => onChange(value + 1)}>
        +
      </button>
    </fieldset>
  );
}
