import assert from 'node:assert/strict';
import { test } from 'node:test';
import { monoSignal, type StereoSignal } from '../signal/stereo-signal.js';
import type { Note } from '../song/song.js';
import { isMeasured, valueOf } from '../units/reading.js';
import { prepareCarry, type CarryMeasure } from './carry.js';
import { SMALL_SPEAKERS, speakerPowers } from './small-speakers.js';

const RATE = 48000;

/** `seconds` of sines `[Hz, amplitude]` in phase, faded in over 0.2 s so that no filter rings from the start. */
function tones(seconds: number, parts: readonly (readonly [number, number])[]): StereoSignal {
  const samples = new Float64Array(seconds * RATE);
  for (const [f, amplitude] of parts) {
    const turn = 2 * Math.cos((2 * Math.PI * f) / RATE);
    let before = -amplitude * Math.sin((2 * Math.PI * f) / RATE);
    let now = 0;
    for (let n = 0; n < samples.length; n++) {
      samples[n]! += now;
      [before, now] = [now, turn * now - before];
    }
  }
  for (let n = 0; n < 0.2 * RATE; n++) samples[n]! *= 0.5 - 0.5 * Math.cos((Math.PI * n) / (0.2 * RATE));
  return monoSignal(samples, RATE);
}

function harmonicBass(seconds: number, falling: number, count = 20): StereoSignal {
  return tones(
    seconds,
    Array.from({ length: count }, (_, i) => [55 * (i + 1), 0.1 * (i + 1) ** -falling] as const),
  );
}

function notesOf(count: number): Note[] {
  return Array.from({ length: count }, (_, i) => ({
    start_s: 0.5 * i,
    end_s: 0.5 * i + 0.45,
    frequency_Hz: 55,
    level_dBFS: -20,
    harmonics_dB: [],
    fundamentalMissing: false,
    curve_Hz: null,
    curveStep_s: 0,
  }));
}

function carryOf(bass: StereoSignal, others: StereoSignal, notes: readonly Note[] = []): CarryMeasure {
  const measured = prepareCarry(others, notes, RATE).measure(bass);
  assert.ok(isMeasured(measured));
  return measured;
}

test('the four loudspeakers fall as their definitions say at 50, 100 and 200 Hz (closed form of the Butterworth slopes)', () => {
  const expected = { phone: [-86.4, -62.3, -38.2], laptop: [-48.2, -24.1, -3.0], monoSpeaker: [-15.3, -4.9, -0.5] };
  const response = (id: string, f: number) => {
    const speaker = SMALL_SPEAKERS.find((one) => one.id === id)!;
    return 10 * Math.log10(speakerPowers(speaker, f, 2, RATE)[1]!);
  };
  for (const [id, levels] of Object.entries(expected)) {
    [50, 100, 200].forEach((f, i) => assert.ok(Math.abs(response(id, f) - levels[i]!) < 0.1, `${id} ${f}`));
  }
  // a published leak of 1 mm in an insert earphone: about -40 dB at 20 Hz and -14 dB at 125 Hz
  assert.ok(Math.abs(response('earbud', 20) + 40.9) < 0.1 && Math.abs(response('earbud', 125) + 14) < 0.1);
});

test('steady bass under a 1 kHz tone: carry on every loudspeaker (values of this project, 0.1 LU)', () => {
  const others = tones(2, [[1000, 0.05]]);
  for (const [falling, phone, laptop, earbud, mono] of [
    [0.5, -1.1, -0.3, -0.6, -0.1],
    [1, -7.3, -2.4, -4.1, -1.2],
    [1.5, -17.3, -7.6, -9.9, -3.6],
    [2, -27.9, -13.7, -14.4, -6.0],
    [3, -48.1, -24.9, -18.4, -8.8],
    [4, -65.6, -33.6, -19.3, -9.6],
  ] as const) {
    const carry = carryOf(harmonicBass(2, falling), others);
    const got = [carry.phone_LU, carry.laptop_LU, carry.earbud_LU, carry.monoSpeaker_LU].map(valueOf);
    [phone, laptop, earbud, mono].forEach((value, i) => {
      assert.ok(Math.abs(got[i]! - value) <= 0.1, `p ${falling}: ${got.map((v) => v!.toFixed(2)).join(' ')}`);
    });
  }
});

test('the blocks where the bass rests do not count', () => {
  const bass = harmonicBass(4, 1);
  bass.left.fill(0, 2 * RATE);
  const others = tones(4, [[1000, 0.05]]);
  const whole = carryOf(harmonicBass(4, 1), others);
  const half = carryOf(bass, others);
  assert.ok(half.blocks < 0.6 * whole.blocks);
  assert.ok(Math.abs(valueOf(half.laptop_LU)! - valueOf(whole.laptop_LU)!) < 0.3);
});

test('heard harmonics: a sub is lost on a laptop, a rich bass is heard, a masked harmonic breaks the run', () => {
  const notes = notesOf(4);
  const tone = tones(2, [[1000, 0.05]]);
  const sub = carryOf(tones(2, [[55, 0.3]]), tone, notes);
  assert.equal(valueOf(sub.heardHarmonicsShare), 0);
  const rich = carryOf(harmonicBass(2, 1, 8), tone, notes);
  assert.equal(valueOf(rich.heardHarmonicsShare), 1);
  const heard = rich.notes[0]!.harmonics!.heard.laptop;
  assert.ok(heard[1]! && heard[2]! && heard[7]! && !heard[8]!);
  // a tone at the fourth harmonic, 12 dB over it, hides it and what lies within its band only
  const masked = carryOf(harmonicBass(2, 1, 8), tones(2, [[220, 0.1]]), notes).notes[0]!.harmonics!.heard.laptop;
  assert.ok(masked[1]! && masked[2]! && !masked[3]! && masked[4]!);
});

test('filling up harmonics of a sub raises carry and what is heard, step by step', () => {
  const others = tones(2, [[1000, 0.05]]);
  let carryBefore = -Infinity;
  let heardBefore = 0;
  for (const level_dB of [-60, -36, -30, -24, -18, -12, -6]) {
    const parts = [2, 3, 4, 5].map((h) => [55 * h, 0.1 * 10 ** ((level_dB - 3 * (h - 2)) / 20)] as const);
    const carry = carryOf(tones(2, [[55, 0.1], ...parts]), others, notesOf(4));
    const laptop = valueOf(carry.laptop_LU)!;
    const heard = valueOf(carry.heardHarmonicsShare)!;
    assert.ok(laptop > carryBefore && heard >= heardBefore, `${level_dB}: ${laptop} ${heard}`);
    carryBefore = laptop;
    heardBefore = heard;
  }
  assert.equal(heardBefore, 1);
});

test('silence and a bass alone give a reason', () => {
  const silent = monoSignal(new Float64Array(RATE), RATE);
  assert.equal(prepareCarry(tones(1, [[1000, 0.1]]), [], RATE).measure(silent).kind, 'unmeasurable');
  assert.equal(prepareCarry(null, [], RATE).measure(harmonicBass(1, 1)).kind, 'unmeasurable');
  const noNotes = carryOf(harmonicBass(1, 1), tones(1, [[1000, 0.1]]));
  assert.equal(noNotes.heardHarmonicsShare.kind, 'unmeasurable');
});
