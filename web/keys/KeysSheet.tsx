import { useEffect, useState } from 'react';
import { Button } from 'react-aria-components';
import { changedKey, isChangeable, keyOf, KEYS_AT_FIRST, type KeptKeys } from './kept-keys.js';
import {
  COMPARE_KEYS,
  declaredKey,
  HELD_KEYS,
  KEY_ACTIONS,
  KEY_TABLE,
  type KeyAction,
  type KeyGroup,
} from './key-table.js';
import { pressedKey } from './pressed-key.js';
import { useKeptKeys, useKeyboard, useKeysRest } from './use-keys.js';
import './keys.css';

/** Every key by what it does. Single signs can be changed or turned off one by one, and all at once (WCAG 2.1.4). */
export function KeysSheet() {
  const keyboard = useKeyboard();
  const kept = useKeptKeys();
  const [changing, setChanging] = useState<KeyAction | null>(null);
  return (
    <>
      <div className="keys-all">
        <label>
          <input
            type="checkbox"
            checked={kept.signsAct}
            onChange={({ target }) => keyboard.change({ ...kept, signsAct: target.checked })}
          />
          Single letters, figures and signs act
        </label>
        <Button
          className="word-button slim"
          isDisabled={kept === KEYS_AT_FIRST || (kept.signsAct && Object.keys(kept.changed).length === 0)}
          onPress={() => keyboard.change(KEYS_AT_FIRST)}
        >
          All keys as they were
        </Button>
        <span>Press a key below to change it. Kept in this browser.</span>
      </div>
      <div className="keys-groups">
        {COLUMNS.map((groups, column) => (
          <div key={column}>
            {groups.map((group) => (
              <Group key={group} {...{ group, kept, changing }} onChanging={setChanging} />
            ))}
            {column === 0 && <Held name="What has focus" rows={HELD_KEYS} />}
            {column === 2 && (
              <Held name="Blind compare" scope="while it is open all other keys rest" rows={COMPARE_KEYS} />
            )}
          </div>
        ))}
      </div>
    </>
  );
}

const COLUMNS: readonly (readonly KeyGroup[])[] = [
  ['Anywhere'],
  ['Listening', 'Strip and figures'],
  ['Findings and stems', 'Path'],
];

interface Changing {
  readonly kept: KeptKeys;
  readonly changing: KeyAction | null;
  onChanging(action: KeyAction | null): void;
}

function Group({ group, kept, changing, onChanging }: Changing & { readonly group: KeyGroup }) {
  return (
    <section>
      <h3>{group}</h3>
      <ul>
        {KEY_ACTIONS.filter((action) => KEY_TABLE[action].group === group).map((action) => (
          <li key={action}>
            {action === changing ? (
              <ChangeKey {...{ action, kept }} onDone={() => onChanging(null)} />
            ) : (
              <KeyButton {...{ action, kept, changing, onChanging }} />
            )}
            <span>{declaredKey(action).says}</span>
          </li>
        ))}
      </ul>
    </section>
  );
}

function KeyButton({ action, kept, onChanging }: Changing & { readonly action: KeyAction }) {
  const key = keyOf({ ...kept, signsAct: true }, action);
  const rests = keyOf(kept, action) === null;
  if (!isChangeable(action)) return <b className="key-name">{key}</b>;
  return (
    <button
      type="button"
      className="key-name"
      data-off={rests}
      aria-label={`Change the key of: ${declaredKey(action).says}. Now ${key === null ? 'off' : key}${rests && key !== null ? ', resting' : ''}`}
      onClick={() => onChanging(action)}
    >
      {key ?? 'off'}
    </button>
  );
}

/** Waits for a key; what is refused is said in its place. */
function ChangeKey({ action, kept, onDone }: { readonly action: KeyAction; readonly kept: KeptKeys; onDone(): void }) {
  const keyboard = useKeyboard();
  const [refusal, setRefusal] = useState<string | null>(null);
  useKeysRest(true);
  const take = (key: string | null) => {
    const next = changedKey(kept, action, key);
    if ('refusal' in next) return setRefusal(next.refusal);
    keyboard.change(next);
    onDone();
  };
  useEffect(() => {
    const hear = (event: KeyboardEvent) => {
      const pressed = pressedKey(event);
      // Tab, and Enter and Space on the buttons here, keep their usual work
      if (pressed === null || /^(Shift )?Tab$|^Enter$|^Space$/.test(pressed)) return;
      event.preventDefault();
      event.stopPropagation();
      if (pressed === 'Esc') onDone();
      else take(pressed);
    };
    window.addEventListener('keydown', hear, true);
    return () => window.removeEventListener('keydown', hear, true);
  });
  const { key } = declaredKey(action);
  return (
    <div className="key-changing">
      <b role="status">press a key</b>
      <button type="button" onClick={() => take(null)}>
        Turn off
      </button>
      {kept.changed[action] !== undefined && (
        <button type="button" onClick={() => take(key)}>
          Back to {key}
        </button>
      )}
      <button type="button" autoFocus onClick={onDone}>
        Leave it
      </button>
      {refusal !== null && <p role="alert">{refusal}</p>}
    </div>
  );
}

interface HeldProps {
  readonly name: string;
  readonly scope?: string;
  readonly rows: typeof HELD_KEYS;
}

function Held({ name, scope, rows }: HeldProps) {
  return (
    <section>
      <h3>
        {name} {scope !== undefined && <small>{scope}</small>}
      </h3>
      <ul>
        {rows.map(({ keys, says }) => (
          <li key={keys}>
            <b className="key-name">{keys}</b>
            <span>{says}</span>
          </li>
        ))}
      </ul>
    </section>
  );
}
