import { useId } from 'react';
import './listen.css';

export interface ChoiceProps<T extends string> {
  readonly name: string;
  readonly choices: readonly { readonly id: T; readonly label: string }[];
  readonly chosen: T;
  readonly onChoose: (id: T) => void;
}

/** A row of joined fields of which one is chosen; arrows move within it. */
export function Choice<T extends string>({ name, choices, chosen, onChoose }: ChoiceProps<T>) {
  const group = useId();
  return (
    <div role="radiogroup" aria-label={name} className="listen-choice">
      {choices.map(({ id, label }) => (
        <label key={id} className={id === chosen ? 'listen-chosen' : undefined}>
          <input type="radio" name={group} checked={id === chosen} onChange={() => onChoose(id)} />
          {label}
        </label>
      ))}
    </div>
  );
}
