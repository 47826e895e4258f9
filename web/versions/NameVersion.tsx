import { useState, type FormEvent } from 'react';
import { Button } from 'react-aria-components';
import { KeyCap } from '../keys/KeyCap.js';

/** The state as it stands gets a name. */
export function NameVersion({ onName }: { onName(name: string): void }) {
  const [name, setName] = useState('');
  const said = name.trim();
  const submit = (event: FormEvent): void => {
    event.preventDefault();
    if (said === '') return;
    onName(said);
    setName('');
  };
  return (
    <form className="name-version" onSubmit={submit}>
      <label htmlFor="version-name">Name the state as it stands</label>
      <input
        id="version-name"
        value={name}
        maxLength={80}
        placeholder="room for the kick"
        autoComplete="off"
        onChange={({ target }) => setName(target.value)}
      />
      <Button className="word-button inked" type="submit" isDisabled={said === ''}>
        Keep it
      </Button>
      <span className="note">
        <KeyCap action="name-version" /> brings you here
      </span>
    </form>
  );
}
