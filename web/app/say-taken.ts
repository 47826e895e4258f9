import { sayTime } from '../listen/listening.js';

/** What is said where the browser has taken the sound away, for a while or for good, and what brings it back. */
export function sayTaken(what: 'interrupted' | 'lost', place_s: number): string {
  const at = sayTime(place_s);
  return what === 'interrupted'
    ? `The browser took the sound away at ${at}. Play goes on from there, softly at first.`
    : `The sound was lost at ${at}: its device or the browser gave it up. Play opens it again there, softly at first.`;
}
