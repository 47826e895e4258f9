import { createContext, useContext, useEffect, useRef, useSyncExternalStore } from 'react';
import type { KeyAction } from './key-table.js';
import type { Keyboard } from './keyboard.js';
import { keyOf, type KeptKeys } from './kept-keys.js';

export const KeyboardContext = createContext<Keyboard | null>(null);

export function useKeyboard(): Keyboard {
  const keyboard = useContext(KeyboardContext);
  if (keyboard === null) throw new Error('no keyboard stands above this part');
  return keyboard;
}

/** What an action does while this part stands; null: nothing, and what stood before does it. */
export function useKey(action: KeyAction, act: (() => void) | null): void {
  const keyboard = useKeyboard();
  const latest = useRef(act);
  useEffect(() => {
    latest.current = act;
  });
  const acts = act !== null;
  useEffect(() => (acts ? keyboard.on(action, () => latest.current?.()) : undefined), [keyboard, action, acts]);
}

/** While `rests` is true no key of the table acts. */
export function useKeysRest(rests: boolean): void {
  const keyboard = useKeyboard();
  useEffect(() => (rests ? keyboard.rest() : undefined), [keyboard, rests]);
}

export function useKeptKeys(): KeptKeys {
  const { kept } = useKeyboard();
  return useSyncExternalStore(kept.subscribe, kept.read);
}

/** The key of an action as it is now, to be shown beside what it does; null where it is off. */
export function useKeyOf(action: KeyAction): string | null {
  return keyOf(useKeptKeys(), action);
}
