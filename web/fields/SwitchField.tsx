import './fields.css';

export interface SwitchFieldProps {
  readonly name: string;
  readonly on: boolean;
  onChange(on: boolean): void;
}

/** On or off, in words. */
export function SwitchField({ name, on, onChange }: SwitchFieldProps) {
  return (
    <button
      type="button"
      className="blank blank-switch"
      role="switch"
      aria-checked={on}
      aria-label={name}
      onClick={() => onChange(!on)}
    >
      <b>{on ? 'on' : 'off'}</b>
    </button>
  );
}
