import assert from 'node:assert/strict';
import { test } from 'node:test';
import { chooseExcerpt, cutHits, cutNotes, cutSignal } from './excerpt.js';
import type { Note } from '../song/song.js';

const rate = 8000;

test('a short song is kept whole, sample for sample', () => {
  const excerpt = chooseExcerpt(30 * rate, rate, []);
  assert.equal(excerpt.whole, true);
  const signal = { left: new Float64Array(30 * rate), right: new Float64Array(30 * rate), sampleRate_Hz: rate };
  assert.equal(cutSignal(signal, excerpt), signal);
});

test('a long song keeps at most 36 s, the worst places among them', () => {
  const excerpt = chooseExcerpt(240 * rate, rate, [97, 201]);
  const seconds = excerpt.ranges.reduce((sum, { from, to }) => sum + (to - from) / rate, 0);
  assert.ok(seconds <= 36 && seconds > 20, `${seconds}`);
  for (const worst of [97, 201]) {
    assert.ok(excerpt.ranges.some(({ from, to }) => from <= worst * rate && worst * rate < to));
  }
});

test('whatever the length of the song, an excerpt lies in it', () => {
  for (let seconds = 1; seconds < 600; seconds += 7) {
    for (const length_s of [4, 8, 12, 36]) {
      const { ranges } = chooseExcerpt(seconds * rate, rate, [0, seconds / 2, seconds], length_s);
      assert.ok(ranges.length > 0 && ranges.every(({ from, to }) => from >= 0 && from < to && to <= seconds * rate));
    }
  }
});

test('hits and notes keep their place in the sound', () => {
  const excerpt = chooseExcerpt(240 * rate, rate, [97]);
  const left = new Float64Array(240 * rate);
  left[97 * rate + 100] = 1;
  const cut = cutSignal({ left, right: left, sampleRate_Hz: rate }, excerpt);
  const time_s = 97 + 100 / rate;
  const [hit] = cutHits([{ time_s, level_dBFS: -10 }], excerpt);
  assert.equal(cut.left[Math.round(hit!.time_s * rate)], 1);
  const note: Note = {
    start_s: time_s,
    end_s: time_s + 0.5,
    frequency_Hz: 55,
    level_dBFS: -12,
    harmonics_dB: [],
    fundamentalMissing: false,
    curve_Hz: null,
    curveStep_s: 0.01,
  };
  assert.equal(cutNotes([note], excerpt)[0]!.start_s, hit!.time_s);
});

test('what straddles a joint is left out', () => {
  const excerpt = chooseExcerpt(240 * rate, rate, []);
  const edge_s = excerpt.ranges[0]!.to / rate;
  assert.deepEqual(cutHits([{ time_s: edge_s - 0.05, level_dBFS: -10 }], excerpt), []);
});
