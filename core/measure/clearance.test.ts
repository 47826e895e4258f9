import assert from 'node:assert/strict';
import { test } from 'node:test';
import { bell, BiquadCascade } from '../dsp/biquad.js';
import { monoSignal } from '../signal/stereo-signal.js';
import type { Hit } from '../song/song.js';
import { valueOf, type Reading } from '../units/reading.js';
import { hitBandPowers, measureClearance, prepareClearance, shareAtLeast2dB, clearanceOfHits } from './clearance.js';
import type { ClearanceMeasure } from './clearance.js';
import type { Knowledge, SongSound } from './song-sound.js';

const rate = 48_000;
const frames = 9 * rate;
const times = Array.from({ length: 16 }, (_, i) => 0.25 + 0.5 * i);

/** A kick falling from 156 to 52 Hz within 12 ms, decaying with 90 ms, at each time. Own recipe, closed form. */
function recipeKick(): Float64Array {
  const kick = new Float64Array(frames);
  for (const time_s of times) {
    for (let n = 0; n < 0.5 * rate; n++) {
      const t = n / rate;
      const phase = 52 * t + 104 * 0.012 * (1 - Math.exp(-t / 0.012));
      kick[Math.round(time_s * rate) + n]! +=
        Math.sin(2 * Math.PI * phase) * Math.exp(-t / 0.09) * Math.min(1, t / 0.001);
    }
  }
  return kick;
}

function steadyBass(frequency_Hz: number, level_dB: number, harmonics = 6): Float64Array {
  const gain = 10 ** (level_dB / 20);
  const bass = new Float64Array(frames);
  for (let h = 1; h <= harmonics; h++) {
    const step = (2 * Math.PI * h * frequency_Hz) / rate;
    for (let n = 0; n < frames; n++) bass[n]! += (gain / h) * Math.sin(step * n);
  }
  return bass;
}

const kick = monoSignal(recipeKick(), rate);
const hits: Hit[] = times.map((time_s) => ({ time_s, level_dBFS: -12 }));
const prepared = prepareClearance(kick, hits);

function soundOf(bass: Float64Array, rest: Float64Array | null = null): SongSound {
  return {
    sampleRate_Hz: rate,
    frameCount: frames,
    kick,
    bass: monoSignal(bass, rate),
    rest: rest && monoSignal(rest, rate),
    tracks: { kick: [], bass: [], rest: [] },
  };
}

function knowledgeOf(theseHits: readonly Hit[], notes: Knowledge['notes'] = []): Knowledge {
  const none = { kind: 'unmeasurable', reason: 'not needed here' } as const;
  return { hits: theseHits, notes, tempo_bpm: none, fundamental_Hz: none, decay_ms: none };
}

function measured(bass: Float64Array): ClearanceMeasure {
  const result = measureClearance(soundOf(bass), knowledgeOf(hits), prepared);
  assert.equal(result.kind, 'measured');
  return result as ClearanceMeasure;
}

function near(reading: Reading | number, expected: number, tolerance: number, what: string): void {
  const value = typeof reading === 'number' ? reading : valueOf(reading);
  assert.ok(value !== null && Math.abs(value - expected) <= tolerance, `${what}: ${value}, expected ${expected}`);
}

// Values from an independent prototype of the definition (numpy, full rate), measured for this project.
for (const [level_dB, median_dB, p10_dB] of [
  [-24, 19.04, 18.96],
  [-21, 16.64, 16.55],
  [-18, 14.08, 13.94],
  [-15, 11.22, 10.98],
  [-12, 8.22, 7.98],
  [-9, 5.22, 4.98],
  [-6, 2.22, 1.98],
  [-3, -0.78, -1.02],
  [0, -3.78, -4.02],
  [3, -6.78, -7.02],
  [6, -9.78, -10.02],
] as const) {
  test(`clearance of the recipe with the bass at ${level_dB} dB`, () => {
    const result = measured(steadyBass(52.156, level_dB));
    near(result.median_dB, median_dB, 0.1, 'median');
    near(result.p10_dB, p10_dB, 0.1, 'P10');
  });
}

test('one dB of bass is one dB of clearance while nothing clips', () => {
  const low = valueOf(measured(steadyBass(52.156, -12)).median_dB)!;
  const high = valueOf(measured(steadyBass(52.156, -11)).median_dB)!;
  near(high - low, -1, 0.001, 'slope');
});

test('a silent bass leaves every hit at +24, clear in the share, and no median', () => {
  const result = measured(new Float64Array(frames));
  assert.ok(result.hits.every((hit) => Math.abs(hit.clearance_dB! - 24) < 1e-9 && hit.unopposed));
  assert.deepEqual(result.median_dB, { kind: 'unmeasurable', reason: 'no bass under any hit' });
  assert.equal(result.p10_dB.kind, 'unmeasurable');
  assert.equal(result.contested_Hz.kind, 'unmeasurable');
  assert.equal(valueOf(result.share2dB), 1);
});

for (const [semitones, clearance_dB, contested_Hz] of [
  [-12, 10.52, null],
  [-5, 12.74, null],
  [0, 8.22, 53.0],
  [1, 7.95, null],
  [2, 8.28, null],
  [3, 9.19, null],
  [4, 10.64, 63.0],
  [5, 12.27, null],
  [7, 15.01, 79.4],
  [12, 18.19, 100.0],
  [19, 22.75, null],
] as const) {
  test(`clearance with the bass ${semitones} semitones from the kick`, () => {
    const result = measured(steadyBass(52.156 * 2 ** (semitones / 12), -12));
    near(result.median_dB, clearance_dB, 0.1, 'median');
    if (contested_Hz !== null) near(result.contested_Hz, contested_Hz, 0.05, 'contested band');
  });
}

function throughBell(samples: Float64Array, frequency_Hz: number, gain_dB: number): Float64Array {
  // 1 octave between half-gain points by the cookbook's bandwidth form
  const w = (2 * Math.PI * frequency_Hz) / rate;
  const q = 1 / (2 * Math.sinh(((Math.log(2) / 2) * w) / Math.sin(w)));
  const cut = samples.slice();
  new BiquadCascade([bell(rate, frequency_Hz, q, gain_dB)]).process(cut);
  return cut;
}

for (const [frequency_Hz, contested_Hz, clearance_dB, gain_dB] of [
  [40, 44.5, 20.1, 1.37],
  [46, 50.0, 15.94, 1.85],
  [52, 53.0, 12.72, 2.14],
  [58, 56.1, 11.59, 2.32],
  [65, 63.0, 12.56, 2.55],
  [73, 70.7, 14.94, 2.06],
  [82, 79.4, 16.19, 1.57],
  [92, 89.1, 16.98, 1.34],
  [103, 100.0, 18.07, 1.06],
] as const) {
  test(`one sine of ${frequency_Hz} Hz: contested band, clearance, and what a bell of -3 dB there gives`, () => {
    const bass = steadyBass(frequency_Hz, -12, 1);
    const before = measured(bass);
    near(before.contested_Hz, contested_Hz, 0.06, 'contested band');
    near(before.median_dB, clearance_dB, 0.1, 'clearance');
    const after = measured(throughBell(bass, contested_Hz, -3));
    near(valueOf(after.median_dB)! - valueOf(before.median_dB)!, gain_dB, 0.1, 'gain');
  });
}

test('a bell near and at the contested band of the recipe gives what was measured', () => {
  const bass = steadyBass(52.156, -12);
  const before = valueOf(measured(bass).median_dB)!;
  for (const [band_Hz, cut_dB, gain_dB] of [
    [50, -3, 2.23],
    [50, -6, 4.39],
    [53, -3, 2.3],
    [53, -6, 4.51],
  ] as const) {
    near(
      valueOf(measured(throughBell(bass, band_Hz, cut_dB)).median_dB)! - before,
      gain_dB,
      0.1,
      `${band_Hz}/${cut_dB}`,
    );
  }
});

test('the quick road of the solver gives the very figures of the measure', () => {
  const bass = steadyBass(52.156, -6);
  const quick = clearanceOfHits(prepared, hitBandPowers(prepared, monoSignal(bass, rate)));
  const whole = measured(bass);
  assert.deepEqual(
    quick,
    whole.hits.map((hit) => hit.clearance_dB),
  );
  assert.equal(shareAtLeast2dB(prepared, quick), valueOf(whole.share2dB));
});

test('band powers of x + g y follow from the cross powers', () => {
  const { spectra } = prepared;
  const x = spectra.of(kick, 0.25);
  const bass = steadyBass(61, -9);
  const y = spectra.of(monoSignal(bass, rate), 0.25);
  const mixed = kick.left.map((value, i) => value + 0.5 * bass[i]!);
  const direct = spectra.bandPowers(spectra.of(monoSignal(mixed, rate), 0.25));
  const cross = spectra.bandCrossPowers(x, y);
  const px = spectra.bandPowers(x);
  const py = spectra.bandPowers(y);
  direct.forEach((power, b) => {
    assert.ok(Math.abs(px[b]! + cross[b]! + 0.25 * py[b]! - power) < 1e-9 * power + 1e-15);
  });
});

test('the bass is summed over channels as power: anti-phase counts, and mono equals the same sound in both', () => {
  const bass = steadyBass(52.156, -6);
  const turned = bass.map((value) => -value);
  const opposed = { left: bass, right: turned, sampleRate_Hz: rate };
  const result = measureClearance({ ...soundOf(bass), bass: opposed }, knowledgeOf(hits), prepared);
  assert.equal(result.kind, 'measured');
  near((result as ClearanceMeasure).median_dB, valueOf(measured(bass).median_dB)!, 1e-9, 'median');
});

test('ghost hits are listed and left out', () => {
  const withGhosts = hits.map((hit, i) => (i < 3 ? { ...hit, level_dBFS: -30 } : hit));
  const result = measureClearance(soundOf(steadyBass(52.156, -6)), knowledgeOf(withGhosts)) as ClearanceMeasure;
  assert.equal(result.hits.filter((hit) => hit.ghost).length, 3);
  assert.equal(result.countedHits, 13);
});

test('the rest is named only where it covers what the bass leaves clear', () => {
  const bass = steadyBass(52.156, -12);
  const sound = soundOf(bass, steadyBass(52.4, 0));
  const result = measureClearance(sound, knowledgeOf(hits)) as ClearanceMeasure;
  assert.equal(result.coveredHits, 0);
  assert.ok(result.coveredByRest >= 14, `${result.coveredByRest}`);
  assert.ok(valueOf(result.overRest!.median_dB)! < 0);
});

test('notes that cause it are counted by pitch, and bass over kick is the same formula turned round', () => {
  const note = (start_s: number, frequency_Hz: number) => ({
    start_s,
    end_s: start_s + 0.5,
    frequency_Hz,
    level_dBFS: -12,
    harmonics_dB: [],
    fundamentalMissing: false,
    curve_Hz: null,
    curveStep_s: 0,
  });
  const notes = times.map((time_s, i) => note(time_s, i % 2 === 0 ? 55 : 41.2));
  const result = measureClearance(soundOf(steadyBass(52.156, 0)), knowledgeOf(hits, notes)) as ClearanceMeasure;
  assert.deepEqual(
    result.notes.map(({ name, hits: count, covered }) => [name, count, covered]),
    [
      ['E1', 8, 8],
      ['A1', 8, 8],
    ],
  );
  assert.equal(result.bassOverKick.notes.length, 16);
  assert.ok(valueOf(result.bassOverKick.median_dB)! > 3.78);
});

test('what cannot be measured says why', () => {
  const reason = (sound: SongSound, known: Knowledge): string => {
    const result = measureClearance(sound, known);
    return result.kind === 'unmeasurable' ? result.reason : 'measured';
  };
  const sound = soundOf(steadyBass(52, -6));
  assert.equal(reason({ ...sound, bass: null }, knowledgeOf(hits)), 'no bass among the stems');
  assert.equal(reason({ ...sound, kick: null }, knowledgeOf(hits)), 'no kick among the stems');
  assert.equal(reason(sound, knowledgeOf([])), 'no kick hits found');
  const silent = { ...sound, kick: monoSignal(new Float64Array(frames), rate) };
  assert.equal(reason(silent, knowledgeOf(hits)), 'the kick is silent at every hit');
});
