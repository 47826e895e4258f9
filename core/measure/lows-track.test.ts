import assert from 'node:assert/strict';
import { test } from 'node:test';
import { unmeasurable } from '../units/reading.js';
import { lowsTrack } from './lows-track.js';

const RATE = 8000;

const known = {
  hits: [{ time_s: 1, level_dBFS: -12 }],
  notes: [],
  tempo_bpm: unmeasurable('none'),
  fundamental_Hz: unmeasurable('none'),
  decay_ms: unmeasurable('none'),
};

function song(kick: Float64Array, bass: Float64Array) {
  const signal = (samples: Float64Array) => ({ left: samples, right: samples, sampleRate_Hz: RATE });
  const tracks = { kick: [], bass: [], rest: [] };
  return { sampleRate_Hz: RATE, frameCount: kick.length, kick: signal(kick), bass: signal(bass), rest: null, tracks };
}

test('a tone in the middle of a band reads its mean square there, both channels, and little elsewhere', () => {
  const tone = Float64Array.from({ length: 3 * RATE }, (_, n) => 0.1 * Math.sin((2 * Math.PI * 63.0957 * n) / RATE));
  const track = lowsTrack(song(new Float64Array(tone.length), tone), known);
  assert.deepEqual(track.bands_Hz.map(Math.round), [40, 50, 63, 79, 100]);
  // closed form: mean square of a sine of peak 0.1 in two channels is 2 * 0.005; a band-pass is 0 dB in its middle
  const expected_dBFS = 10 * Math.log10(0.01);
  const middle = track.bass_dBFS[2]!.subarray(50, 100);
  // 50 ms hold 6.3 half periods of 63 Hz: the mean square of the part left over ripples by up to 0.7 dB
  assert.ok(middle.every((level) => Math.abs(level - expected_dBFS) < 0.75));
  assert.ok(track.bass_dBFS[0]!.subarray(50, 100).every((level) => level < expected_dBFS - 20));
  assert.ok(Math.abs(track.hitBass_dBFS[0]![2]! - expected_dBFS) < 0.3);
  assert.deepEqual(track.hitKick_dBFS, [[-120, -120, -120, -120, -120]]);
});
