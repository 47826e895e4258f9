import assert from 'node:assert/strict';
import { test } from 'node:test';
import type { Hit, Note } from '../song/song.js';
import { valueOf } from '../units/reading.js';
import { SeededRandom } from '../units/seeded-random.js';
import { findTempo } from './tempo.js';

const hitAt = (time_s: number): Hit => ({ time_s, level_dBFS: -20 });
const noteAt = (start_s: number): Note => ({
  start_s,
  end_s: start_s + 0.2,
  frequency_Hz: 55,
  level_dBFS: -20,
  harmonics_dB: [0],
  fundamentalMissing: false,
  curve_Hz: null,
  curveStep_s: 0.01,
});

/** Kicks and notes of a pattern in beats, played with the scatter of a player and of our own onsets. */
function song(bpm: number, kicks: readonly number[], notes: readonly number[], swing: number, seed: number) {
  const random = new SeededRandom(seed);
  const beat_s = 60 / bpm;
  const swung = (beats: number): number => {
    const whole = Math.floor(beats);
    const part = beats - whole;
    return whole + (part <= 0.5 ? 2 * part * swing : swing + (2 * part - 1) * (1 - swing));
  };
  const at = (bar: number, beats: number, scatter_s: number): number =>
    0.3 + (4 * bar + swung(beats)) * beat_s + scatter_s * random.normal();
  const bars = Array.from({ length: 14 }, (_, bar) => bar);
  return {
    hits: bars.flatMap((bar) => kicks.map((beats) => hitAt(at(bar, beats, 0.003)))),
    notes: bars.flatMap((bar) => notes.map((beats) => noteAt(at(bar, beats, 0.008)))),
  };
}

const ON_THE_FLOOR = [0, 1, 2, 3];
const BACKBEAT = [0, 1.5, 2];
const SYNCOPATED = [0, 0.75, 2.5];
const EIGHTHS = [0, 0.5, 1, 1.5, 2, 2.5, 3, 3.5];
const LOOSE = [0, 0.75, 1.5, 2.5, 3, 3.5];

for (const [name, kicks, notes, swing] of [
  ['four on the floor', ON_THE_FLOOR, EIGHTHS, 0.5],
  ['a backbeat', BACKBEAT, EIGHTHS, 0.5],
  ['a syncopated pattern', SYNCOPATED, LOOSE, 0.5],
  ['a lightly swung pattern', BACKBEAT, LOOSE, 0.58],
] as const) {
  for (const bpm of [92.3, 110, 127.97, 141.6]) {
    test(`${name} at ${bpm} bpm`, () => {
      const { hits, notes: line } = song(bpm, kicks, notes, swing, Math.round(bpm));
      const value = valueOf(findTempo(hits, line));
      assert.ok(value !== null && Math.abs(value - bpm) <= 0.25, `found ${value}`);
    });
  }
}

test('strewn hits, a wandering tempo and too few events have a reason in place of a tempo', () => {
  const random = new SeededRandom(5);
  let time_s = 0;
  const strewn = Array.from({ length: 80 }, () => hitAt((time_s += random.between(0.1, 1.2))));
  assert.equal(findTempo(strewn, []).kind, 'unmeasurable');
  time_s = 0;
  const slowing = Array.from({ length: 160 }, (_, i) => hitAt((time_s += 0.45 + 0.0015 * i)));
  assert.equal(findTempo(slowing, []).kind, 'unmeasurable');
  assert.equal(findTempo([hitAt(1), hitAt(2)], []).kind, 'unmeasurable');
  assert.equal(findTempo([], []).kind, 'unmeasurable');
});
