import assert from 'node:assert/strict';
import { test } from 'node:test';
import type { LevelMatch } from '../../core/measure/level-match.js';
import { blindKey } from './blind-key.js';
import { blindRefusal } from './blind-refusal.js';
import { gainToApply_dB, UNTOUCHED } from './heard-match.js';
import { chanceOfAtLeast, guesserChances, sayKept, sayMeaning, sayResult } from './guessing.js';
import { recordOf } from './kept-compare.js';
import { LISTENING_AT_FIRST, nextReference, swapped } from './listening.js';
import { sayNoteThrough } from './note-through.js';
import { sayMatch } from './say-match.js';

test('binomial chances are exact: 16 trials (NIST/SEMATECH e-Handbook of Statistical Methods, 1.3.6.6.18, p = 1/2)', () => {
  const chances = guesserChances(16);
  assert.equal(chances[8], 12870 / 65536);
  assert.equal(chances[0], 1 / 65536);
  assert.equal(
    chances.reduce((a, b) => a + b),
    1,
  );
  assert.equal(chanceOfAtLeast(12, 16), 2517 / 65536); // 1820 + 560 + 120 + 16 + 1
  assert.equal(chanceOfAtLeast(0, 16), 1);
});

test('the result in words', () => {
  assert.equal(sayResult(12, 16), '12 of 16 right. Guessing alone does this well 1 time in 26.');
  assert.equal(sayResult(8, 16), '8 of 16 right. Guessing alone does this well 60 times in 100.');
  assert.match(sayMeaning(12, 16), /most likely hear/);
  assert.match(sayMeaning(11, 16), /not shown/);
});

test('keys of the compare', () => {
  assert.deepEqual(blindKey('x'), { play: 'X' });
  assert.deepEqual(blindKey('ArrowRight'), { answer: 'B' });
  assert.equal(blindKey('Escape'), 'close');
  assert.equal(blindKey(' '), 'pause');
  assert.equal(blindKey('s'), null);
});

const match: LevelMatch = { kind: 'match', match_dB: 0.42, apart_LU: 0.03, by: 'BS.1770 loudness', fair: true };
const heard = (change: Partial<LevelMatch>, estimated = false) => ({ match: { ...match, ...change }, estimated });

test('the match in words: by what, over how much, whether estimated; over 6 dB no level makes it fair', () => {
  assert.equal(sayMatch(heard({})), 'Matched: treated +0.4\u00a0dB, 0.03\u00a0LU apart, by BS.1770 loudness.');
  assert.match(sayMatch(heard({ over_s: 24 })), /by BS\.1770 loudness, over 24\u00a0s of the song\.$/);
  assert.match(sayMatch(heard({}, true)), /^Match estimated, treated \+0\.4\u00a0dB/);
  assert.match(sayMatch(heard({ match_dB: -7, fair: false })), /7\.0\u00a0dB louder\. No level makes this fair/);
  assert.match(sayMatch({ match: null, estimated: false }), /^Not matched so far/);
});

test('the gain that is applied: none where none is known, and never more than 6 dB up', () => {
  assert.equal(gainToApply_dB(match), 0.42);
  assert.equal(gainToApply_dB({ ...match, match_dB: 20, fair: false }), 6);
  assert.equal(gainToApply_dB({ ...match, match_dB: -9, fair: false }), -9);
  assert.equal(gainToApply_dB({ kind: 'unmeasurable', reason: 'silent' }), 0);
  assert.equal(gainToApply_dB(null), 0);
});

test('a compare is refused with its reason wherever level would decide it', () => {
  const listening = LISTENING_AT_FIRST;
  assert.equal(blindRefusal(listening, heard({}), true), null);
  assert.match(blindRefusal(listening, heard({}), false)!, /^Play the song first/);
  assert.match(blindRefusal(listening, heard({}, true), true)!, /not known yet/);
  assert.match(blindRefusal(listening, { match: null, estimated: false }, true)!, /not known yet/);
  assert.match(
    blindRefusal(listening, heard({ match_dB: 7, fair: false }), true)!,
    /softer\. No level makes this fair/,
  );
  const silent = { match: { kind: 'unmeasurable', reason: 'silent' } as const, estimated: false };
  assert.match(blindRefusal(listening, silent, true)!, /No match is known: silent/);
  assert.match(blindRefusal(listening, { match: UNTOUCHED, estimated: false }, true)!, /are the same/);
  assert.match(blindRefusal({ ...listening, reference: 'a.wav' }, heard({}), true)!, /reference is heard/);
});

test('S goes to the other side, and from a reference back to the song; F goes through the references and back', () => {
  assert.equal(swapped(LISTENING_AT_FIRST).side, 'source');
  assert.deepEqual(swapped({ ...LISTENING_AT_FIRST, reference: 'a.wav' }), {
    ...{ side: 'treated', difference: false, reference: null },
  });
  const files = ['a.wav', 'b.wav'];
  const after = (reference: string | null) => nextReference({ ...LISTENING_AT_FIRST, reference }, files);
  assert.deepEqual([after(null), after('a.wav'), after('b.wav')], ['a.wav', 'b.wav', null]);
});

test('a note through a loudspeaker in words, with runs of harmonics', () => {
  const note = { name: 'A1', speaker: 'laptop', treated: false, frequency_Hz: 55, harmonics_dB: [] } as const;
  const on = (...numbers: number[]) => Array.from({ length: 9 }, (_, h) => numbers.includes(h + 1));
  assert.match(sayNoteThrough({ ...note, heard: on(3, 4, 5, 6) }), /harmonics 3 to 6 are heard, 4 in a row/);
  assert.match(sayNoteThrough({ ...note, heard: on(2, 4, 5, 9) }), /harmonics 2, 4, 5 and 9 are heard, 2 in a row/);
  assert.match(sayNoteThrough({ ...note, heard: on(3) }), /harmonic 3 is heard; dashed/);
  assert.match(sayNoteThrough({ ...note, heard: on() }), /source, on the laptop: no harmonic is heard/);
});

test('a record as it is kept: the chance of a guesser where every trial was answered, none where it was abandoned', () => {
  const terms = { a: 'source', b: 'treated', conditions: 'everything', match_dB: 0.4, trials: 4 };
  const answers = [{ x: 'A', said: 'A' } as const];
  const kept = recordOf({ ...terms, answered: 4, answers, right: 4 }, new Date(0));
  assert.equal(kept.probability, 1 / 16);
  assert.equal(kept.date, '1970-01-01T00:00:00.000Z');
  const left = recordOf({ ...terms, answered: 1, answers: [], right: null }, new Date(0));
  assert.deepEqual([left.right, left.probability], [null, null]);
  assert.match(sayKept(left), /abandoned after 1 of 4\.$/);
  assert.match(sayKept(kept), /4 of 4 right \(4 or more: 6\.3\u00a0%\)/);
});
