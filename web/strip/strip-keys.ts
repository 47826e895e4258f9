/** What the keyboard does to the strip; steps and zoom have keys of the table, the others act while it has focus. */
export type StripAction =
  | { readonly kind: 'move'; readonly by: 'beat' | 'bar'; readonly direction: 1 | -1 }
  | { readonly kind: 'row'; readonly direction: 1 | -1 }
  | { readonly kind: 'step'; readonly direction: 1 | -1 }
  | { readonly kind: 'zoom'; readonly factor: number }
  | { readonly kind: 'whole-song' | 'pin' | 'first' | 'last' | 'let-go' };

/** Null where the key is not the strip's, so that it keeps its other work. */
export function stripAction(key: string, shift: boolean): StripAction | null {
  switch (key) {
    case 'ArrowLeft':
    case 'ArrowRight':
      return { kind: 'move', by: shift ? 'bar' : 'beat', direction: key === 'ArrowRight' ? 1 : -1 };
    case 'ArrowUp':
    case 'ArrowDown':
      return { kind: 'row', direction: key === 'ArrowDown' ? 1 : -1 };
    case 'Enter':
      return { kind: 'pin' };
    case 'Home':
      return { kind: 'first' };
    case 'End':
      return { kind: 'last' };
    case 'Escape':
      return { kind: 'let-go' };
    default:
      return null;
  }
}
