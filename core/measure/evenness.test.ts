import assert from 'node:assert/strict';
import { test } from 'node:test';
import { monoSignal } from '../signal/stereo-signal.js';
import type { Note } from '../song/song.js';
import { midi_to_frequency } from '../units/notes.js';
import { SeededRandom } from '../units/seeded-random.js';
import { measureEvenness } from './evenness.js';
import { evennessOf } from './evenness-of-levels.js';
import { meanSquareOf, noteWindow } from './note-window.js';
import type { Knowledge, SongSound } from './song-sound.js';

const RATE = 48000;
const close = (value: number, expected: number, tolerance: number, what = '') =>
  assert.ok(Math.abs(value - expected) <= tolerance, `${what} ${value}, expected ${expected}`);

const note = (start_s: number, end_s: number, frequency_Hz: number): Note => ({
  start_s,
  end_s,
  frequency_Hz,
  level_dBFS: 0,
  harmonics_dB: [],
  fundamentalMissing: false,
  curve_Hz: null,
  curveStep_s: 0,
});

/** A line of notes, harmonics 1..4 falling as 1/h, each raised by its gain; `highGain_dB` turns harmonics above 300 Hz only. */
function line(notes: readonly { midi: number; gain_dB: number; highGain_dB?: number; length_s?: number }[]) {
  const length_s = 0.4;
  const samples = new Float64Array(Math.round((notes.length * length_s + 0.2) * RATE));
  const list = notes.map(({ midi, gain_dB, highGain_dB = 0, length_s: own = length_s }, i) => {
    const f = midi_to_frequency(midi);
    const from = Math.round(i * length_s * RATE);
    for (let n = 0; n < own * RATE; n++) {
      let sum = 0;
      for (const h of [1, 2, 3, 10]) {
        const extra = h * f > 300 ? highGain_dB : 0;
        sum += (10 ** (extra / 20) * Math.sin((2 * Math.PI * h * f * n) / RATE)) / h;
      }
      samples[from + n]! += 0.1 * 10 ** (gain_dB / 20) * sum;
    }
    return note(i * length_s, i * length_s + own, f);
  });
  return { sound: soundOf(samples), known: knowledgeOf(list) };
}

function soundOf(samples: Float64Array): SongSound {
  const bass = monoSignal(samples, RATE);
  const tracks = { kick: [], bass: [{ file: 'Bass.wav', signal: bass }], rest: [] };
  return { sampleRate_Hz: RATE, frameCount: samples.length, kick: null, bass, rest: null, tracks };
}

function knowledgeOf(notes: readonly Note[]): Knowledge {
  const none = { kind: 'unmeasurable', reason: 'not asked' } as const;
  return { hits: [], notes, tempo_bpm: none, fundamental_Hz: none, decay_ms: none };
}

test('20 equal notes, n of them raised by 6 dB: P90 - P10 jumps (values of this project, linear percentiles)', () => {
  for (const [raised, expected] of [
    [1, 0],
    [2, 0.6],
    [3, 6],
    [4, 6],
  ] as const) {
    const levels = Array.from({ length: 20 }, (_, i) => (i < raised ? -12 : -18));
    close(
      evennessOf(
        levels,
        levels.map(() => 55),
      ).spread_dB,
      expected,
      1e-9,
      `${raised} raised`,
    );
  }
});

test('a decaying note reads -2.73 dB over 30..250 ms and -1.91 dB over 30..130 ms', () => {
  const samples = Float64Array.from({ length: RATE }, (_, n) => {
    let sum = 0;
    for (let h = 1; h <= 6; h++) sum += Math.sin((2 * Math.PI * 55 * h * n) / RATE) / h;
    return sum * Math.exp(-n / RATE / 0.8);
  });
  const signal = monoSignal(samples, RATE);
  const level = (longest_s: number) =>
    10 * Math.log10(meanSquareOf(signal, noteWindow(note(0, 1, 55), longest_s, signal)!));
  close(level(0.25), -2.73, 0.1);
  close(level(0.13), -1.91, 0.1);
});

test('the line follows a slope over the register and finds the offsets of single pitches', () => {
  const random = new SeededRandom(4);
  const levels: number[] = [];
  const frequencies: number[] = [];
  const offsets = new Map([
    [33, 6],
    [38, -5],
  ]);
  for (let i = 0; i < 60; i++) {
    const midi = 28 + (i % 10) * 2 - (i % 10 > 5 ? 1 : 0);
    frequencies.push(midi_to_frequency(midi));
    levels.push(-18 - (4 * (midi - 33)) / 12 + (offsets.get(midi) ?? 0) + 0.4 * random.normal());
  }
  const evenness = evennessOf(levels, frequencies);
  close(evenness.lineSlope_dB_per_oct, -4, 0.5, 'slope');
  close(evenness.scatter_dB, 0.4, 0.2, 'scatter');
  for (const pitch of evenness.pitches) {
    close(pitch.median_dB, offsets.get(pitch.midi) ?? 0, 0.6, pitch.name);
    assert.equal(pitch.fault, pitch.midi === 33 ? 'resonant' : pitch.midi === 38 ? 'dead' : null, pitch.name);
  }
});

test('two notes of a pitch are too few, and a scattered pitch is no resonance', () => {
  const frequencies = [...Array<number>(12).fill(55), 82.4, 82.4];
  const two = evennessOf([...Array<number>(12).fill(-18), -10, -10], frequencies);
  assert.equal(two.pitches[1]!.fault, null);
  assert.equal(two.pitches[1]!.judged, false);
  const scattered = evennessOf([...Array<number>(12).fill(-18), -10, -26, -10, -19], [...frequencies, 82.4, 82.4]);
  assert.ok(scattered.pitches.every((pitch) => pitch.fault === null));
});

test('a resonant pitch in the low lane is told from the sound, with short and silent notes listed but not counted', () => {
  const scale = [28, 30, 31, 33, 35, 36, 38];
  const notes = Array.from({ length: 28 }, (_, i) => {
    const midi = scale[i % 7]!;
    const resonant = midi === 33;
    return { midi, gain_dB: resonant ? 5 : 0, highGain_dB: resonant ? -5 : 0, length_s: i === 6 ? 0.06 : 0.38 };
  });
  const { sound, known } = line(notes);
  const silent = note(notes.length * 0.4 + 0.05, notes.length * 0.4 + 0.19, 55);
  const measured = measureEvenness(sound, { ...known, notes: [...known.notes, silent] });
  assert.equal(measured.kind, 'measured');
  if (measured.kind !== 'measured') return;
  assert.equal(measured.countedNotes, 27);
  assert.equal(measured.notes[6]!.counted, false);
  assert.equal(measured.notes[28]!.level_dBFS, null);
  const pitch = measured.pitches.find(({ midi }) => midi === 33)!;
  assert.equal(pitch.fault, 'resonant');
  close(pitch.median_dB, 5, 0.4);
  close(pitch.lowLaneDeviation_dB, 5, 0.5);
  close(pitch.highLaneDeviation_dB, 0, 1);
  assert.equal(pitch.starts_s.length, 4);
  assert.deepEqual(
    measured.pitches.filter(({ fault }) => fault !== null).map(({ name }) => name),
    ['A1'],
  );
});

test('equal levels an octave apart are even to a meter and uneven to the ear', () => {
  const { sound, known } = line(Array.from({ length: 20 }, (_, i) => ({ midi: i % 2 ? 28 : 40, gain_dB: 0 })));
  const measured = measureEvenness(sound, known);
  assert.ok(measured.kind === 'measured' && measured.asHeard_dB.kind === 'figure');
  assert.ok(measured.kind === 'measured' && measured.spread_dB.kind === 'figure');
  if (measured.kind !== 'measured') return;
  assert.ok(measured.spread_dB.kind === 'figure' && measured.spread_dB.value < 0.3);
  assert.ok(measured.asHeard_dB.kind === 'figure' && measured.asHeard_dB.value > 3);
});

test('no bass, no notes or silence give a reason, never a figure', () => {
  const { sound, known } = line([{ midi: 33, gain_dB: 0 }]);
  assert.equal(measureEvenness({ ...sound, bass: null }, known).kind, 'unmeasurable');
  assert.equal(measureEvenness(sound, knowledgeOf([])).kind, 'unmeasurable');
  const silent = soundOf(new Float64Array(RATE));
  const notes = Array.from({ length: 9 }, (_, i) => note(i * 0.1, i * 0.1 + 0.1, 55));
  assert.equal(measureEvenness(silent, knowledgeOf(notes)).kind, 'unmeasurable');
});
