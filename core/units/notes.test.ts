import assert from 'node:assert/strict';
import { test } from 'node:test';
import { frequency_to_midi, interval_cents, midi_to_frequency, midi_to_name, nearestNote } from './notes.js';

// The equal-tempered scale on A4 = 440 Hz (ISO 16:1975), as handbooks print it, to four decimals; middle C is C4.
const table: readonly (readonly [name: string, midi: number, frequency_Hz: number])[] = [
  ['B0', 23, 30.8677],
  ['C1', 24, 32.7032],
  ['C#1', 25, 34.6478],
  ['D1', 26, 36.7081],
  ['D#1', 27, 38.8909],
  ['E1', 28, 41.2034],
  ['F1', 29, 43.6535],
  ['F#1', 30, 46.2493],
  ['G1', 31, 48.9994],
  ['G#1', 32, 51.9131],
  ['A1', 33, 55.0],
  ['A#1', 34, 58.2705],
  ['B1', 35, 61.7354],
  ['C2', 36, 65.4064],
  ['C#2', 37, 69.2957],
  ['D2', 38, 73.4162],
  ['D#2', 39, 77.7817],
  ['E2', 40, 82.4069],
  ['F2', 41, 87.3071],
  ['F#2', 42, 92.4986],
  ['G2', 43, 97.9989],
  ['G#2', 44, 103.8262],
  ['A2', 45, 110.0],
  ['A#2', 46, 116.5409],
  ['B2', 47, 123.4708],
  ['C3', 48, 130.8128],
  ['D3', 50, 146.8324],
  ['E3', 52, 164.8138],
  ['F3', 53, 174.6141],
  ['G3', 55, 195.9977],
  ['A4', 69, 440.0],
];

for (const [name, midi, frequency_Hz] of table) {
  test(`${name} is note ${midi} at ${frequency_Hz} Hz`, () => {
    // half a last digit of the printed table
    assert.ok(Math.abs(midi_to_frequency(midi) - frequency_Hz) <= 5e-5);
    assert.equal(midi_to_name(midi), name);
    const nearest = nearestNote(frequency_Hz);
    assert.deepEqual([nearest.midi, nearest.name], [midi, name]);
    // 5e-5 Hz at 30 Hz is 0.003 cents
    assert.ok(Math.abs(nearest.cents) < 0.003);
  });
}

test('mains frequencies fall between notes', () => {
  // 50 Hz = 31.350 and 60 Hz = 34.506 as note numbers
  assert.ok(Math.abs(frequency_to_midi(50) - 31.35) < 5e-4);
  assert.ok(Math.abs(frequency_to_midi(60) - 34.506) < 5e-4);
});

test('an octave is 1200 cents, a fifth of 3:2 701.955', () => {
  assert.equal(interval_cents(55, 110), 1200);
  assert.equal(interval_cents(110, 55), -1200);
  assert.ok(Math.abs(interval_cents(2, 3) - 701.955) < 5e-4);
});

test('a quarter tone goes up, and cents stay within a half', () => {
  const between = nearestNote(midi_to_frequency(40.49));
  assert.equal(between.midi, 40);
  assert.ok(Math.abs(between.cents - 49) < 1e-6);
  assert.ok(Math.abs(nearestNote(midi_to_frequency(40.51)).cents + 49) < 1e-6);
});

test('notes under C0 keep their names', () => {
  assert.equal(midi_to_name(0), 'C-1');
  assert.equal(midi_to_name(11), 'B-1');
  assert.equal(midi_to_name(60), 'C4');
});
