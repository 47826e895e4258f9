/** What a keyboard event says of itself. */
export interface KeyPress {
  readonly key: string;
  readonly ctrlKey: boolean;
  readonly metaKey: boolean;
  readonly altKey: boolean;
  readonly shiftKey: boolean;
  getModifierState?(name: string): boolean;
}

const NAMES: Readonly<Record<string, string>> = { ' ': 'Space', Escape: 'Esc', '\u2212': '-', '=': '+' };

/**
 * A key as the table writes it: `S`, `Shift P`, `Ctrl Shift Z`, `[`. Shift is written with letters only, since other signs are
 * what they are. Null for modifiers alone and for what Alt makes of letters and arrows, which stays the browser's.
 */
export function pressedKey(press: KeyPress): string | null {
  const { key, shiftKey } = press;
  if (key === '' || ['Shift', 'Control', 'Alt', 'Meta', 'AltGraph', 'Dead', 'Unidentified', 'Process'].includes(key)) {
    return null;
  }
  const isSign = key.length === 1 && !/[\p{L}\p{N}\s]/u.test(key);
  // on many layouts brackets and braces need Alt or AltGr
  const alt = press.altKey || press.getModifierState?.('AltGraph') === true;
  if (alt) return isSign ? named(key) : null;
  const isLetter = key.length === 1 && /\p{L}/u.test(key);
  const ctrl = press.ctrlKey || press.metaKey ? 'Ctrl ' : '';
  const shift = shiftKey && (isLetter || key.length > 1) ? 'Shift ' : '';
  return `${ctrl}${shift}${isLetter ? key.toUpperCase() : named(key)}`;
}

function named(key: string): string {
  return NAMES[key] ?? key;
}

/** Whether WCAG 2.1.4 speaks of it: one printable sign, with or without Shift. */
export function isCharacterKey(key: string): boolean {
  return /^(Shift )?\S$/u.test(key);
}
