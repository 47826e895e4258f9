import type { Letter } from '../audio/blind-order.js';

export type BlindAct = { readonly play: Letter | 'X' } | { readonly answer: Letter } | 'pause' | 'close';

/** What a key does while the compare has the keyboard; null: nothing, and nothing else acts either. */
export function blindKey(key: string): BlindAct | null {
  const letter = key.toUpperCase();
  if (letter === 'A' || letter === 'B' || letter === 'X') return { play: letter };
  if (key === 'ArrowLeft') return { answer: 'A' };
  if (key === 'ArrowRight') return { answer: 'B' };
  if (key === ' ') return 'pause';
  return key === 'Escape' ? 'close' : null;
}
