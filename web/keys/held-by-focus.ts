/** What has the focus, as far as keys go. */
export interface Focused {
  readonly tag: string;
  /** The type of an input; empty for anything else. */
  readonly type: string;
  readonly role: string | null;
  readonly editable: boolean;
}

const NO_TEXT = ['button', 'checkbox', 'color', 'file', 'radio', 'range', 'reset', 'submit'];
const PRESSED_BY_SPACE = ['button', 'checkbox', 'radio', 'switch', 'tab', 'link', 'menuitem', 'option'];

/** Whether text is being typed there: then no key acts but Esc, not even one with Ctrl. */
export function isTyped({ tag, type, editable }: Focused): boolean {
  return editable || tag === 'TEXTAREA' || (tag === 'INPUT' && !NO_TEXT.includes(type));
}

/** Whether what has the focus takes the key for itself: Space presses a button, letters search a list, figures fill a blank. */
export function isHeldByFocus(focused: Focused, pressed: string): boolean {
  if (isTyped(focused)) return pressed !== 'Esc';
  const { tag, type, role } = focused;
  if (tag === 'SELECT') return !pressed.startsWith('Ctrl ') && pressed !== 'Esc';
  if (pressed === 'Space' || pressed === 'Enter') {
    const presses = tag === 'BUTTON' || tag === 'SUMMARY' || tag === 'A' || (tag === 'INPUT' && type !== 'range');
    return presses || PRESSED_BY_SPACE.includes(role ?? '');
  }
  return role === 'slider' && /^[-+\d.,]$/.test(pressed);
}
