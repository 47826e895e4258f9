import { sayCount } from '../../../core/findings/say-figure.js';
import type { Finding } from '../../../core/findings/finding.js';

/** What was found, in a sentence; while the song is measured, so far. */
export function foundSentence(findings: readonly Finding[], isWhole: boolean): string {
  if (findings.length === 0) {
    return isWhole ? 'Nothing to mend: every measure lies within its tolerance.' : 'Nothing is found so far.';
  }
  const dearest = findings.reduce((most, one) => (one.severity > most.severity ? one : most));
  return `${sayCount(findings.length, 'finding')}${isWhole ? '' : ' so far'}, the dearest: ${dearest.sentence}`;
}
