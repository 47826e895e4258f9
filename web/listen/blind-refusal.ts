import type { Listening } from './listening.js';
import { UNTOUCHED, type HeardMatch } from './heard-match.js';
import { sayApart } from './say-match.js';

/** Why a blind compare cannot begin now, in a sentence; null where it can. */
export function blindRefusal(listening: Listening, { match, estimated }: HeardMatch, opened: boolean): string | null {
  if (!opened) return 'Play the song first: the compare needs the sound to be open.';
  if (listening.reference !== null) return 'A reference is heard. Go back to the song to compare source and treated.';
  if (match === UNTOUCHED) return 'Nothing is done to what is heard: source and treated are the same.';
  if (match === null || estimated)
    return 'The match of what is heard is not known yet; without it the louder one wins.';
  if (match.kind === 'unmeasurable') return `No match is known: ${match.reason}. Without it the louder one wins.`;
  if (!match.fair) return `${sayApart(match)} No level makes this fair, so a compare would show the level alone.`;
  return null;
}
