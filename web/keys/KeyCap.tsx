import type { KeyAction } from './key-table.js';
import { useKeyOf } from './use-keys.js';

/** The key of an action, beside the words of what it does; nothing where it is off. Named by `aria-keyshortcuts`, not read. */
export function KeyCap({ action }: { readonly action: KeyAction }) {
  const key = useKeyOf(action);
  return key === null ? null : <kbd aria-hidden="true">{key === 'Space' ? 'space' : key}</kbd>;
}
