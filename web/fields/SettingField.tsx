import type { SettingDeclaration } from '../../core/treatment/stage.js';
import type { SettingValue } from '../../core/treatment/treatment.js';
import { ChoiceField } from './ChoiceField.js';
import { NumberField } from './NumberField.js';
import { SwitchField } from './SwitchField.js';
import { rangeOf } from './value-range.js';

export interface SettingFieldProps {
  readonly declaration: SettingDeclaration;
  readonly value: SettingValue;
  /** What the solver found; null where it was not solved. */
  readonly solved: SettingValue | null;
  readonly tempo_bpm: number | null;
  onChange(value: SettingValue): void;
  /** Double click and Backspace: back to what was found. */
  onBack(): void;
}

/** A setting drawn from its declaration alone. */
export function SettingField({ declaration, value, solved, tempo_bpm, onChange, onBack }: SettingFieldProps) {
  const { kind, name, unit, choices = [] } = declaration;
  if (kind === 'switch') return <SwitchField name={name} on={value === true} onChange={onChange} />;
  if (kind === 'choice') {
    const was = solved === null ? null : String(solved);
    return (
      <ChoiceField name={name} value={String(value)} choices={choices} unit={unit} solved={was} onChange={onChange} />
    );
  }
  return (
    <NumberField
      name={name}
      value={Number(value)}
      unit={unit}
      range={rangeOf(declaration)}
      solved={typeof solved === 'number' ? solved : null}
      rest={Number(declaration.default)}
      tempo_bpm={tempo_bpm}
      onChange={onChange}
      onBack={onBack}
    />
  );
}
