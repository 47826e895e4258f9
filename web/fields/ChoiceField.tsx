import './fields.css';

export interface ChoiceFieldProps {
  readonly name: string;
  readonly value: string;
  readonly choices: readonly string[];
  readonly unit: string;
  readonly solved: string | null;
  onChange(value: string): void;
}

/** One of several, written on the same dotted line as a number. */
export function ChoiceField({ name, value, choices, unit, solved, onChange }: ChoiceFieldProps) {
  return (
    <span className="blank blank-choice">
      {solved === value && <span className="solved-bracket" aria-hidden="true" />}
      <select aria-label={name} value={value} onChange={(event) => onChange(event.target.value)}>
        {choices.map((choice) => (
          <option key={choice} value={choice}>
            {choice}
          </option>
        ))}
      </select>
      {unit !== '' && <i>{unit}</i>}
    </span>
  );
}
