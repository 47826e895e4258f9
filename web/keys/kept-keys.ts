import { declaredKey, KEY_ACTIONS, KEY_TABLE, type KeyAction } from './key-table.js';
import { isCharacterKey } from './pressed-key.js';

/** What the engineer changed of the table. */
export interface KeptKeys {
  /** Whether single signs act at all (WCAG 2.1.4); Space, Esc and those with Ctrl always do. */
  readonly signsAct: boolean;
  /** The key of an action; null where it was turned off. */
  readonly changed: Partial<Readonly<Record<KeyAction, string | null>>>;
}

export const KEYS_AT_FIRST: KeptKeys = { signsAct: true, changed: {} };

/** The key that does an action now; null where it is off. */
export function keyOf({ signsAct, changed }: KeptKeys, action: KeyAction): string | null {
  const own = changed[action];
  const key = own === undefined ? declaredKey(action).key : own;
  return key !== null && isCharacterKey(key) && !signsAct ? null : key;
}

/** What a pressed key does now. `Ctrl Y` does the work of redo too. */
export function actionOf(kept: KeptKeys, pressed: string): KeyAction | null {
  if (pressed === 'Ctrl Y') return 'redo';
  return KEY_ACTIONS.find((action) => keyOf(kept, action) === pressed) ?? null;
}

/** Only single signs can be changed or turned off: the others never act by a slip of speech or hand. */
export function isChangeable(action: KeyAction): boolean {
  return isCharacterKey(declaredKey(action).key);
}

/** Another key for an action, or the sentence that says why not. Null turns it off. */
export function changedKey(kept: KeptKeys, action: KeyAction, key: string | null): KeptKeys | { refusal: string } {
  if (key === null) return { ...kept, changed: { ...kept.changed, [action]: null } };
  if (!isCharacterKey(key)) {
    return {
      refusal: `${key} stays with the browser or with what has focus. Take a letter, a figure or another sign.`,
    };
  }
  // what is turned off as a whole keeps its keys too
  const holder = KEY_ACTIONS.find((other) => other !== action && keyOf({ ...kept, signsAct: true }, other) === key);
  if (holder !== undefined) {
    return {
      refusal: `${key} does this already: ${declaredKey(holder).says}. Change that first, or take another key.`,
    };
  }
  const others = Object.fromEntries(Object.entries(kept.changed).filter(([other]) => other !== action));
  return { ...kept, changed: declaredKey(action).key === key ? others : { ...others, [action]: key } };
}

/** Reads what was kept; whatever does not fit the table any more is let fall. */
export function readKeptKeys(text: string | null): KeptKeys {
  if (text === null) return KEYS_AT_FIRST;
  try {
    const { signsAct, changed } = JSON.parse(text) as { signsAct?: unknown; changed?: unknown };
    let kept: KeptKeys = { signsAct: signsAct !== false, changed: {} };
    for (const [action, key] of Object.entries(changed ?? {})) {
      if (!(action in KEY_TABLE) || !isChangeable(action as KeyAction)) continue;
      if (key === null || typeof key === 'string') kept = { ...kept, changed: { ...kept.changed, [action]: key } };
    }
    return kept;
  } catch {
    return KEYS_AT_FIRST;
  }
}
