import assert from 'node:assert/strict';
import { test } from 'node:test';
import type { Note } from '../song/song.js';
import { octaveSlips } from './octave-slips.js';

const PLAIN_DB = [0, -6, -10, -12, -14, -16, -17, -18];
/** Odd harmonics 10 dB under the even ones: a tone an octave up with a slight alternation. */
const ALTERNATING_DB = [-10, 0, -20, -6, -26, -10, -30, -12];

function noteAt(start_s: number, frequency_Hz: number, harmonics_dB: readonly number[]): Note {
  const plain = { fundamentalMissing: false, curve_Hz: null, curveStep_s: 0.01, level_dBFS: -20 };
  return { ...plain, start_s, end_s: start_s + 0.4, frequency_Hz, harmonics_dB };
}

function trackOf(notes: readonly Note[], upShare: number) {
  const frequency_Hz = new Float64Array(600);
  for (const { start_s, end_s, frequency_Hz: f } of notes) {
    for (let n = Math.round(100 * start_s); n < 100 * end_s; n++) {
      frequency_Hz[n] = n - 100 * start_s < upShare * 40 ? 2 * f : f;
    }
  }
  return { hop_s: 0.01, frequency_Hz, dip: new Float64Array(600), level_dB: new Float64Array(600) };
}

const LINE = Array.from({ length: 8 }, (_, i) =>
  noteAt(0.5 * i, i === 3 ? 40 : 80, i === 3 ? ALTERNATING_DB : PLAIN_DB),
);

test('one alternating note, partly heard an octave up, has slipped', () => {
  assert.deepEqual([...octaveSlips(LINE, trackOf(LINE, 0.3))], [LINE[3]]);
});

test('it has not where no part of it was heard an octave up, nor where the whole line sounds so, nor in a short line', () => {
  assert.equal(octaveSlips(LINE, trackOf(LINE, 0)).size, 0);
  const alike = LINE.map((note) => ({ ...note, harmonics_dB: ALTERNATING_DB }));
  assert.equal(octaveSlips(alike, trackOf(alike, 0.3)).size, 0);
  assert.equal(octaveSlips(LINE.slice(0, 5), trackOf(LINE, 0.3)).size, 0);
});
