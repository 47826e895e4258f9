import assert from 'node:assert/strict';
import { test } from 'node:test';
import { monoSignal } from '../signal/stereo-signal.js';
import { SeededRandom } from '../units/seeded-random.js';
import {
  bassLine,
  PLAIN_LINE,
  randomLine,
  VOICES,
  type LineShape,
  type Voice,
} from '../../tests/songs/synthetic-bass.js';
import { scoreNotes } from '../../tests/songs/score-notes.js';
import { kickLine, kickSound, PLAIN_KICK } from '../../tests/songs/synthetic-kick.js';
import { oneShot, readAtSpeed } from '../../tests/songs/one-shots.js';
import { findBassNotes } from './bass-notes.js';
import { findKickHits } from './kick-hits.js';

const RATE_HZ = 48_000;

function scoreOf(voice: Voice, shape: LineShape, seed: number) {
  const truth = randomLine(new SeededRandom(seed), shape);
  const line = bassLine(truth, voice, RATE_HZ, truth[truth.length - 1]!.end_s + 0.4);
  const notes = findBassNotes(monoSignal(line, RATE_HZ), []);
  const score = scoreNotes(truth, notes);
  const cents = score.pairs.map(([i, j]) =>
    Math.abs(1200 * Math.log2(notes[j]!.frequency_Hz / truth[i]!.frequency_Hz)),
  );
  return { score, notes, worst_cents: Math.max(...cents) };
}

for (const [v, voice] of VOICES.entries()) {
  test(`a line of ${voice} notes is found`, () => {
    const { score } = scoreOf(voice, { ...PLAIN_LINE, noteCount: 24 }, 100 + v);
    assert.ok(score.f >= 0.95, `F ${score.f}, P ${score.precision}, R ${score.recall}`);
  });
}

test('silence holds no notes', () => {
  assert.deepEqual(findBassNotes(monoSignal(new Float64Array(RATE_HZ), RATE_HZ), []), []);
  assert.deepEqual(findBassNotes(monoSignal(new Float64Array(0), RATE_HZ), []), []);
});

test('fast sixteenths at 140 bpm are found', () => {
  const shape = { ...PLAIN_LINE, tempo_bpm: 140, noteCount: 24, lengths: [1, 1, 1, 2] };
  const { score } = scoreOf('pluck', shape, 41);
  assert.ok(score.f >= 0.95, `F ${score.f}`);
});

test('pitch holds within 5 cents from B0 to G3 with the kick at -20 dB, and the kick adds no notes', () => {
  const random = new SeededRandom(11);
  const shape = { ...PLAIN_LINE, noteCount: 30, lowest_midi: 23, highest_midi: 55 };
  const truth = randomLine(random, shape);
  const length_s = truth[29]!.end_s + 0.3;
  const line = bassLine(truth, 'organ', RATE_HZ, length_s);
  const beats = Array.from({ length: Math.floor((length_s - 0.5) / 0.55) }, (_, i) => ({
    time_s: 0.2 + 0.55 * i,
    gain: 1,
  }));
  const kick = kickLine(beats, kickSound({ ...PLAIN_KICK, click: 0.3 }, RATE_HZ, random), RATE_HZ, length_s);
  const scale = (0.1 * largest(line)) / largest(kick);
  const bled = line.map((value, n) => value + scale * kick[n]!);
  const notes = findBassNotes(monoSignal(bled, RATE_HZ), findKickHits(monoSignal(kick, RATE_HZ)));
  const score = scoreNotes(truth, notes);
  assert.ok(score.f >= 0.95, `F ${score.f}, P ${score.precision}, R ${score.recall}`);
  for (const [i, j] of score.pairs) {
    const cents = 1200 * Math.log2(notes[j]!.frequency_Hz / truth[i]!.frequency_Hz);
    assert.ok(Math.abs(cents) <= 5, `${truth[i]!.frequency_Hz} Hz read ${cents} cents off`);
  }
});

test('kick bleed at -12 dB is not taken for notes', () => {
  const random = new SeededRandom(11);
  const truth = randomLine(random, { ...PLAIN_LINE, noteCount: 30, lowest_midi: 23, highest_midi: 55 });
  const length_s = truth[29]!.end_s + 0.3;
  const line = bassLine(truth, 'saw', RATE_HZ, length_s);
  const beats = Array.from({ length: Math.floor(length_s / 0.545) }, (_, i) => ({ time_s: 0.2 + 0.545 * i, gain: 1 }));
  const kick = kickLine(beats, kickSound({ ...PLAIN_KICK, click: 0.3 }, RATE_HZ, random), RATE_HZ, length_s);
  const scale = (10 ** (-12 / 20) * largest(line)) / largest(kick);
  const bled = line.map((value, n) => value + scale * kick[n]!);
  const score = scoreNotes(truth, findBassNotes(monoSignal(bled, RATE_HZ), findKickHits(monoSignal(kick, RATE_HZ))));
  assert.ok(score.f >= 0.95, `F ${score.f}, P ${score.precision}, R ${score.recall}`);
});

test('a missing fundamental is named in the right octave, with its harmonics', () => {
  const { notes, score } = scoreOf('thin', { ...PLAIN_LINE, noteCount: 12, lengths: [4], restShare: 0, gain_dB: 0 }, 5);
  assert.ok(score.f >= 0.95);
  const { notes: full } = scoreOf('pluck', { ...PLAIN_LINE, noteCount: 12, lengths: [4], restShare: 0, gain_dB: 0 }, 5);
  assert.ok(notes.every((note) => note.fundamentalMissing));
  assert.ok(full.every((note) => !note.fundamentalMissing));
  // An organ's harmonics fall as 1 / h^1.5: -9.03 dB at h = 2, -14.31 at 3 (from its recipe).
  const { notes: organ } = scoreOf('organ', { ...PLAIN_LINE, noteCount: 6, lengths: [4], restShare: 0, gain_dB: 0 }, 5);
  for (const { harmonics_dB } of organ) {
    assert.ok(Math.abs(harmonics_dB[1]! + 9.03) < 0.5 && Math.abs(harmonics_dB[2]! + 14.31) < 0.5, `${harmonics_dB}`);
  }
});

test('a long slide is one note with its curve', () => {
  const slide = { start_s: 0.2, end_s: 1.4, frequency_Hz: 82.4, gain: 1, from_Hz: 55, glide_s: 1 };
  const notes = findBassNotes(monoSignal(bassLine([slide], 'organ', RATE_HZ, 1.8), RATE_HZ), []);
  assert.equal(notes.length, 1);
  const { curve_Hz, curveStep_s, start_s } = notes[0]!;
  for (const t of [0.4, 0.6, 0.9]) {
    const wanted_Hz = 55 * (82.4 / 55) ** (t - 0.2);
    const read_Hz = curve_Hz![Math.round((t - start_s) / curveStep_s)]!;
    assert.ok(Math.abs(1200 * Math.log2(read_Hz / wanted_Hz)) < 50, `${read_Hz} for ${wanted_Hz}`);
  }
});

/**
 * Every pitched CC0 one-shot named bass_* that is longer than 0.25 s and whose own pitch is steady; its name says its pitch. The
 * lines are made by reading them at other speeds. Left out: bass_hit_c, which falls by more than an octave as it sounds. Wanted is
 * 0.90; two do not reach it in every line: bass_dnb_f has no clear period for 60 ms after each attack, and the wave of bass_hard_c
 * turns to the octave below within the note.
 */
const RECORDED: readonly (readonly [string, number, number])[] = [
  ['bass_drop_c', 65.406, 0.9],
  ['bass_thick_c', 65.406, 0.9],
  ['bass_trance_c', 65.406, 0.9],
  ['bass_voxy_c', 65.406, 0.9],
  ['bass_voxy_hit_c', 65.406, 0.9],
  ['bass_woodsy_c', 65.406, 0.9],
  ['bass_dnb_f', 43.654, 0.7],
  ['bass_hard_c', 65.406, 0.7],
];

const recordedScores: number[] = [];

for (const [i, [name, own_Hz, least]] of RECORDED.entries()) {
  test(`a line of the recorded ${name} is found`, async () => {
    const sound = await oneShot(name);
    const lowest_midi = own_Hz < 50 ? 24 : 31;
    const shape = { ...PLAIN_LINE, noteCount: 20, lowest_midi, highest_midi: lowest_midi + 14, lengths: [2, 2, 3, 4] };
    const truth = randomLine(new SeededRandom(60 + i), shape);
    const line = new Float64Array(Math.round((truth[19]!.end_s + 0.4) * RATE_HZ));
    for (const note of truth) {
      const read = readAtSpeed(sound, note.frequency_Hz / own_Hz, RATE_HZ);
      const from = Math.round(note.start_s * RATE_HZ);
      const length = Math.min(read.length, Math.round((note.end_s - note.start_s) * RATE_HZ));
      for (let n = 0; n < length; n++) line[from + n]! += note.gain * read[n]! * Math.min(1, (length - n) / 240);
    }
    const score = scoreNotes(truth, findBassNotes(monoSignal(line, RATE_HZ), []));
    recordedScores.push(score.f);
    assert.ok(score.f >= least, `F ${score.f}, P ${score.precision}, R ${score.recall}`);
  });
}

test('over all recorded lines F is 0.90 or more', () => {
  assert.equal(recordedScores.length, RECORDED.length);
  const mean = recordedScores.reduce((sum, f) => sum + f, 0) / recordedScores.length;
  assert.ok(mean >= 0.9, `F ${mean} over ${recordedScores.join(', ')}`);
});

test('glided lines are found', () => {
  for (const voice of ['organ', 'driven'] as const) {
    const { score } = scoreOf(voice, { ...PLAIN_LINE, glideShare: 0.3, tempo_bpm: 95, lowest_midi: 33 }, 411);
    assert.ok(score.f >= 0.95, `${voice}: F ${score.f}, P ${score.precision}, R ${score.recall}`);
  }
});

function largest(line: Float64Array): number {
  return line.reduce((peak, value) => Math.max(peak, Math.abs(value)), 0);
}
