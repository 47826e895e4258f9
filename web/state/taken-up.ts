import { readSession } from '../../core/session/session-file.js';
import { emptySession, type Session } from '../../core/session/session-format.js';
import type { KeptSong } from './kept-sessions.js';
import { newHistory, withStep, type SessionHistory } from './session-history.js';

/**
 * The kept session, where the file beside the stems is the one it was begun from or last wrote. Another file goes before it, as
 * a step that can be taken back.
 */
export function takenUp(
  kept: Pick<KeptSong, 'text' | 'beside'> | null,
  besideStems: Session | null,
  beside: string | null,
): SessionHistory {
  if (kept === null) return newHistory(besideStems ?? emptySession());
  const before = newHistory(readSession(kept.text));
  if (besideStems === null || kept.beside === beside) return before;
  return withStep(before, 'take the session file that lies with the stems', besideStems);
}
