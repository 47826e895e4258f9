import assert from 'node:assert/strict';
import { test } from 'node:test';
import { allPass, BiquadCascade } from '../dsp/biquad.js';
import { butterworthLowPass } from '../dsp/butterworth.js';
import { monoSignal } from '../signal/stereo-signal.js';
import type { Note } from '../song/song.js';
import { SeededRandom } from '../units/seeded-random.js';
import type { Knowledge, SongSound } from './song-sound.js';
import { measureTrackAlignments, type MeasuredAlignment, type TrackAlignment } from './track-alignment.js';

const rate = 48_000;
const seconds = 12;
const none = { kind: 'unmeasurable', reason: 'not needed here' } as const;
const hitTimes = Array.from({ length: 20 }, (_, i) => 0.3 + 0.55 * i);

/** A kick with a click, in closed form, so that a fraction of a sample of delay is exact. */
function kickTrack(delay_samples: number, start_Hz = 160, settled_Hz = 52, click_Hz = 1400): Float64Array {
  const samples = new Float64Array(seconds * rate);
  for (const time_s of hitTimes) {
    const start = time_s * rate + delay_samples;
    for (let n = Math.ceil(start); n < start + 0.4 * rate; n++) {
      const t = (n - start) / rate;
      const phase = settled_Hz * t + (start_Hz - settled_Hz) * 0.015 * (1 - Math.exp(-t / 0.015));
      const click = 0.3 * Math.exp(-t / 0.004) * Math.sin(2 * Math.PI * click_Hz * t);
      samples[n]! += Math.min(1, t / 0.001) * (Math.exp(-t / 0.09) * Math.sin(2 * Math.PI * phase) + click);
    }
  }
  return samples;
}

/** A line of plucked notes with twelve partials, in closed form. */
function bassTrack(delay_samples: number): { samples: Float64Array; notes: Note[] } {
  const random = new SeededRandom(11);
  const samples = new Float64Array(seconds * rate);
  const notes: Note[] = [];
  for (let i = 0; i < 30; i++) {
    const start_s = 0.2 + 0.38 * i;
    const frequency_Hz = 41.2 * 2 ** (random.below(17) / 12);
    notes.push({
      start_s,
      end_s: start_s + 0.36,
      frequency_Hz,
      level_dBFS: -12,
      harmonics_dB: [],
      fundamentalMissing: false,
      curve_Hz: null,
      curveStep_s: 0,
    });
    const start = start_s * rate + delay_samples;
    for (let n = Math.ceil(start); n < start + 0.36 * rate; n++) {
      const t = (n - start) / rate;
      let sum = 0;
      for (let h = 1; h <= 12; h++) sum += (Math.sin(2 * Math.PI * h * frequency_Hz * t + h) / h) * Math.exp(-t * h);
      samples[n]! += 0.3 * sum * Math.min(1, t / 0.004) * Math.min(1, (0.36 - t) / 0.01);
    }
  }
  return { samples, notes };
}

function aligned(role: 'kick' | 'bass', first: Float64Array, second: Float64Array, notes: Note[] = []): TrackAlignment {
  const pair = [
    { file: 'first.wav', signal: monoSignal(first, rate) },
    { file: 'second.wav', signal: monoSignal(second, rate) },
  ];
  const tracks = { kick: [], bass: [], rest: [], [role]: pair } as SongSound['tracks'];
  const sound: SongSound = {
    sampleRate_Hz: rate,
    frameCount: first.length,
    kick: null,
    bass: null,
    rest: null,
    tracks,
  };
  const known: Knowledge = {
    hits: hitTimes.map((time_s) => ({ time_s, level_dBFS: -12 })),
    notes,
    tempo_bpm: none,
    fundamental_Hz: none,
    decay_ms: none,
  };
  const [alignment, ...others] = measureTrackAlignments(sound, known);
  assert.equal(others.length, 0);
  return alignment!;
}

function measuredOf(alignment: TrackAlignment): MeasuredAlignment {
  assert.equal(alignment.result.kind, 'measured', JSON.stringify(alignment));
  return alignment.result as MeasuredAlignment;
}

function near_ms(actual: number, expected: number, tolerance: number): void {
  assert.ok(Math.abs(actual - expected) <= tolerance, `${actual} ms, expected ${expected}`);
}

function withNoise(samples: Float64Array, snr_dB: number): Float64Array {
  const random = new SeededRandom(5);
  let power = 0;
  for (const value of samples) power += value * value;
  const gain = Math.sqrt(power / samples.length) * 10 ** (-snr_dB / 20);
  return samples.map((value) => value + gain * random.normal());
}

const kick = kickTrack(0);
const scaled = (samples: Float64Array, gain: number): Float64Array => samples.map((value) => gain * value);

// Identical copies: integer and fractional delay, inverted, 20 dB either way, 30 dB of noise. 0.02 ms is a sample at 48 kHz;
// without noise the parabola comes within a quarter of that (9.7 samples lie between two points of its grid).
for (const [what, delay_samples, gain, snr_dB] of [
  ['whole samples', 96, 1, null],
  ['ahead', -120, 1, null],
  ['a fraction', 10.37, 1, null],
  ['a fraction between the grid', 9.7, 1, null],
  ['inverted', 10.37, -1, null],
  ['20 dB up', 40, 10, null],
  ['20 dB down and inverted', 40, -0.1, null],
  ['30 dB over noise', 23.4, 1, 30],
  ['inverted, 30 dB over noise', 23.4, -1, 30],
] as const) {
  test(`a copy of the kick: ${what}`, () => {
    const copy = scaled(kickTrack(delay_samples), gain);
    const alignment = aligned('kick', kick, snr_dB === null ? copy : withNoise(copy, snr_dB));
    const result = measuredOf(alignment);
    assert.equal(result.method, 'correlation');
    near_ms(result.delay_ms, (1000 * delay_samples) / rate, snr_dB === null ? 0.005 : 0.02);
    assert.equal(result.polarity, Math.sign(gain));
    assert.ok(alignment.correlation!.quality <= 0.39, `quality ${alignment.correlation!.quality}`);
  });
}

test('the correcting gain and the bands are those of the sum itself', () => {
  const result = measuredOf(aligned('kick', kick, scaled(kickTrack(240), -1)));
  // Energy of the sums in 40-200 Hz by direct filtering, no code shared with the cross-spectrum
  const energy = (second: Float64Array): number => {
    const sum = kick.map((value, n) => value + second[n]!);
    const low = sum.slice();
    new BiquadCascade(butterworthLowPass(8, 200, rate)).process(low);
    const belowLow = low.slice();
    new BiquadCascade(butterworthLowPass(8, 40, rate)).process(belowLow);
    let total = 0;
    low.forEach((value, n) => (total += (value - belowLow[n]!) ** 2));
    return total;
  };
  const direct_dB = 10 * Math.log10(energy(kick) / energy(scaled(kickTrack(240), -1)));
  assert.ok(Math.abs(result.correctingGain_dB - direct_dB) < 0.5, `${result.correctingGain_dB}, direct ${direct_dB}`);
  for (const band of result.bands) assert.ok(band.aligned_dB > 2.9 && band.aligned_dB <= 3.02, `${band.aligned_dB}`);
  assert.equal(result.nudge_ms, 0);
});

test('a second track of one source with phase of its own: within 0.1 ms, polarity right', () => {
  for (const delay_samples of [0, 187]) {
    const { samples, notes } = bassTrack(0);
    const cabinet = bassTrack(delay_samples).samples;
    new BiquadCascade([allPass(rate, 90, 0.7), ...butterworthLowPass(2, 3500, rate)]).process(cabinet);
    for (const polarity of [1, -1] as const) {
      const alignment = aligned('bass', samples, scaled(cabinet, polarity), notes);
      const result = measuredOf(alignment);
      assert.equal(result.method, 'correlation');
      near_ms(result.delay_ms, (1000 * delay_samples) / rate, 0.15);
      assert.equal(result.polarity, polarity);
    }
  }
});

test('unlike sounds on one hit: no delay by correlation, polarity untouched, onsets told', () => {
  // The same burst of decaying low-passed noise on every hit: coherent with the kick, but not the same sound
  const random = new SeededRandom(21);
  const burst = Float64Array.from({ length: 0.3 * rate }, (_, n) => random.normal() * Math.exp(-n / (0.06 * rate)));
  new BiquadCascade(butterworthLowPass(2, 900, rate)).process(burst);
  const other = new Float64Array(kick.length);
  for (const time_s of hitTimes) other.set(burst, Math.round(time_s * rate) + 96);
  const alignment = aligned('kick', kick, other);
  const result = measuredOf(alignment);
  assert.equal(result.method, 'onsets', JSON.stringify(alignment));
  assert.equal(result.polarity, 1);
  near_ms(result.delay_ms, 2, 0.5);
});

test('two unrelated noises are refused, and so are silence and a file too short', () => {
  const random = new SeededRandom(9);
  const noise = (): Float64Array => Float64Array.from({ length: seconds * rate }, () => 0.1 * random.normal());
  const refused = aligned('bass', noise(), noise());
  assert.equal(refused.result.kind, 'unmeasurable');
  assert.ok(refused.coherence! < 0.1);
  assert.equal(aligned('bass', kick, new Float64Array(kick.length)).result.kind, 'unmeasurable');
  const short = aligned('kick', kick.subarray(0, rate), kick.subarray(0, rate));
  assert.deepEqual(short.result, { kind: 'unmeasurable', reason: 'shorter than a second' });
});

test('every file is laid beside the first, and one file alongside none', () => {
  const track = (file: string, delay: number) => ({ file, signal: monoSignal(kickTrack(delay), rate) });
  const tracks = {
    kick: [track('a.wav', 0), track('b.wav', 48), track('c.wav', -96)],
    bass: [track('d.wav', 0)],
    rest: [],
  };
  const sound: SongSound = { sampleRate_Hz: rate, frameCount: kick.length, kick: null, bass: null, rest: null, tracks };
  const known = { hits: [], notes: [], tempo_bpm: none, fundamental_Hz: none, decay_ms: none };
  const alignments = measureTrackAlignments(sound, known);
  assert.deepEqual(
    alignments.map(({ reference, file }) => [reference, file]),
    [
      ['a.wav', 'b.wav'],
      ['a.wav', 'c.wav'],
    ],
  );
  near_ms(measuredOf(alignments[1]!).delay_ms, -2, 0.02);
});
