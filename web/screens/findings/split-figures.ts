/** A number with the unit behind it, or `15 of 47`; digits inside names of files and notes are none. */
const FIGURE =
  /(?<![\w.])(?:\d+(?:\.\d+)? (?:to|and) )?[−]?\d+(?:\.\d+)?(?: of [−]?\d+)?(?:\u00a0(?:dBTP|dBFS|dB|LU|LUFS|%|ms|Hz|hits?|notes?|more hits?))(?![\w])|(?<![\w.])\d+ of \d+(?![\w])/gu;

/** A sentence in parts: figures with their unit, and the words between. */
export function splitFigures(sentence: string): { readonly text: string; readonly figure: boolean }[] {
  const parts: { text: string; figure: boolean }[] = [];
  let at = 0;
  for (const match of sentence.matchAll(FIGURE)) {
    if (match.index > at) parts.push({ text: sentence.slice(at, match.index), figure: false });
    parts.push({ text: match[0], figure: true });
    at = match.index + match[0].length;
  }
  if (at < sentence.length) parts.push({ text: sentence.slice(at), figure: false });
  return parts;
}
