import assert from 'node:assert/strict';
import { test } from 'node:test';
import { DEMO_FINGERPRINT } from './demo-fingerprint.js';
import { buildDemoSong } from './demo-song.js';
import { demoTruth } from './demo-truth.js';
import { sumOf } from '../core/signal/stereo-signal.js';

const stems = buildDemoSong();

/** FNV-1a over the 24-bit integers, 32 bits by Math.imul: the same number on every machine. */
function fingerprint(): number {
  let hash = 0x811c9dc5;
  for (const { signal } of stems) {
    for (const channel of [signal.left, signal.right]) {
      for (const sample of channel) hash = Math.imul(hash ^ (sample * 8388608), 0x01000193);
    }
  }
  return hash >>> 0;
}

test('the stems are of one length between 24 and 40 s, at 48 kHz, on the 24-bit grid, and not clipped', () => {
  for (const { fileName, signal, bitDepth } of stems) {
    assert.equal(bitDepth, 24);
    assert.equal(signal.sampleRate_Hz, 48000);
    assert.equal(signal.left.length, stems[0]!.signal.left.length, fileName);
    const duration_s = signal.left.length / 48000;
    assert.ok(duration_s >= 24 && duration_s <= 40, `${duration_s} s`);
    assert.ok(
      signal.left.every((x) => Number.isInteger(x * 8388608) && Math.abs(x) < 0.99),
      fileName,
    );
    assert.ok(
      signal.right.every((x) => Number.isInteger(x * 8388608) && Math.abs(x) < 0.99),
      fileName,
    );
  }
});

test('a second build gives the same bytes, stem by stem', () => {
  const again = buildDemoSong();
  for (const [i, { fileName, signal }] of again.entries()) {
    assert.equal(fileName, stems[i]!.fileName);
    assert.deepEqual(signal.left, stems[i]!.signal.left);
    assert.deepEqual(signal.right, stems[i]!.signal.right);
  }
});

test('the bytes are those first made, so that every machine makes the same', () => {
  assert.equal(fingerprint(), DEMO_FINGERPRINT);
});

test('the sum keeps room to full scale, as a mix does', () => {
  const mix = sumOf(stems.map(({ signal }) => signal))!;
  let peak = 0;
  for (const channel of [mix.left, mix.right]) for (const x of channel) peak = Math.max(peak, Math.abs(x));
  const peak_dBFS = 20 * Math.log10(peak);
  assert.ok(peak_dBFS > -4.5 && peak_dBFS < -1, `${peak_dBFS} dBFS`);
});

test('the truth lies inside the song and in order', () => {
  const duration_s = stems[0]!.signal.left.length / 48000;
  for (const [i, note] of demoTruth.notes.entries()) {
    assert.ok(note.end_s > note.start_s && note.end_s < duration_s);
    if (i > 0) assert.ok(note.start_s >= demoTruth.notes[i - 1]!.end_s);
  }
  for (const [i, hit] of demoTruth.hits.entries()) {
    if (i > 0) assert.ok(hit.time_s > demoTruth.hits[i - 1]!.time_s);
  }
});
