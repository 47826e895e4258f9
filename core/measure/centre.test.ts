import assert from 'node:assert/strict';
import { test } from 'node:test';
import { monoSignal, type StereoSignal } from '../signal/stereo-signal.js';
import { SeededRandom } from '../units/seeded-random.js';
import { isMeasured, valueOf } from '../units/reading.js';
import { measureCentre, type CentreMeasure, type RoleCentre } from './centre.js';
import type { SongSound } from './song-sound.js';
import { thirdOctave_Hz, thirdOctaveEdges_Hz, thirdOctaves_Hz } from './third-octaves.js';

const rate = 8_000;
const seconds = 20;

function soundOf(parts: Partial<Pick<SongSound, 'kick' | 'bass' | 'rest'>>): SongSound {
  const first = parts.bass ?? parts.kick ?? parts.rest!;
  return {
    sampleRate_Hz: first.sampleRate_Hz,
    frameCount: first.left.length,
    kick: null,
    bass: null,
    rest: null,
    ...parts,
    tracks: { kick: [], bass: [], rest: [] },
  };
}

function bassOf(bass: StereoSignal): RoleCentre {
  const measured = measureCentre(soundOf({ bass })) as CentreMeasure;
  assert.ok(isMeasured(measured.bass));
  return measured.bass;
}

function near(value: number | null, expected: number, tolerance: number, what: string): void {
  assert.ok(value !== null && Math.abs(value - expected) <= tolerance, `${what}: ${value}, expected ${expected}`);
}

/**
 * Two sums of tones on the same 0.25 Hz grid over 20..120 Hz, the second in quadrature to the first: equal powers, correlation
 * exactly 0 over a whole second count. Mixing them gives any correlation without the scatter of noise.
 */
function quadraturePair(): { a: Float64Array; b: Float64Array } {
  const random = new SeededRandom(3);
  const a = new Float64Array(rate * seconds);
  const b = new Float64Array(rate * seconds);
  for (let f = 21; f < 120; f += 3) {
    const phase = 2 * Math.PI * random.uniform();
    const step = (2 * Math.PI * f) / rate;
    for (let n = 0; n < a.length; n++) {
      a[n]! += 0.01 * Math.sin(step * n + phase);
      b[n]! += 0.01 * Math.cos(step * n + phase);
    }
  }
  return { a, b };
}

const pair = quadraturePair();

function correlatedPair(rho: number, rightGain = 1): StereoSignal {
  const right = pair.a.map((value, n) => rightGain * (rho * value + Math.sqrt(1 - rho * rho) * pair.b[n]!));
  return { left: pair.a, right, sampleRate_Hz: rate };
}

// Closed form: 10 lg((P_L + P_R + 2 rho sqrt(P_L P_R)) / (2 (P_L + P_R))).
for (const [rho, equal_dB, sixDown_dB] of [
  [1, 0, 0.46],
  [0.9, 0.22, 0.66],
  [0.5, 1.25, 1.55],
  [0.3, 1.87, 2.08],
  [0, 3.01, 3.01],
  [-0.3, 4.56, 4.2],
  [-0.5, 6.02, 5.23],
  [-0.9, 13.01, 8.54],
  [-0.99, 23.01, 9.83],
] as const) {
  test(`fold-down loss follows the closed form at a correlation of ${rho}`, () => {
    const equal = bassOf(correlatedPair(rho));
    near(valueOf(equal.foldDownLoss_dB), equal_dB, 0.1, 'equal powers');
    near(equal.correlation, rho, 0.005, 'correlation');
    near(equal.leftOverRight_dB, 0, 0.05, 'balance');
    const sixDown = bassOf(correlatedPair(rho, 10 ** (-6.02 / 20)));
    near(valueOf(sixDown.foldDownLoss_dB), sixDown_dB, 0.1, 'right 6.02 dB down');
    near(sixDown.correlation, rho, 0.005, 'correlation, right down');
    near(sixDown.leftOverRight_dB, 6.02, 0.05, 'balance, right down');
  });
}

test('hard-panned lows lose 3.01 dB and are no width; full opposition is capped, not infinite', () => {
  const silent = new Float64Array(pair.a.length);
  const panned = bassOf({ left: pair.a, right: silent, sampleRate_Hz: rate });
  near(valueOf(panned.foldDownLoss_dB), 3.01, 0.01, 'loss');
  assert.equal(panned.correlation, 1);
  assert.equal(panned.leftOverRight_dB, 60);
  const opposed = bassOf({ left: pair.a, right: pair.a.map((value) => -value), sampleRate_Hz: rate });
  assert.equal(valueOf(opposed.foldDownLoss_dB), 60);
  assert.ok(opposed.opposedBelow_Hz !== null);
});

test('the course over time finds the wide seconds, and the quiet ones are left out', () => {
  const left = pair.a.slice();
  const right = pair.a.slice();
  for (let n = 0; n < right.length; n++) {
    const time_s = n / rate;
    if (time_s >= 8 && time_s < 12) right[n] = pair.b[n]!;
    if (time_s >= 16) {
      left[n]! *= 0.01;
      right[n] = 0.01 * pair.b[n]!;
    }
  }
  const measured = bassOf({ left, right, sampleRate_Hz: rate });
  near(measured.worstWindow_dB, 3.01, 0.3, 'worst window');
  const wide = measured.windows.time_s.filter((_, i) => measured.windows.loss_dB[i]! > 1.5);
  assert.ok(Math.min(...wide) >= 7 && Math.max(...wide) < 12, `${wide}`);
  assert.ok(measured.windows.time_s.every((time_s) => time_s < 16));
});

test('the energy of the bands, and of all windows, is the energy of the signal (Parseval)', () => {
  const measured = bassOf(correlatedPair(0.5));
  let power = 0;
  for (const value of pair.a) power += value * value;
  const expected_dBFS = 10 * Math.log10((2 * power) / pair.a.length);
  near(measured.lows_dBFS, expected_dBFS, 0.05, 'level of the lows');
});

test('a mono kick beside a stereo bass: each is judged by itself', () => {
  const kick = monoSignal(pair.a, rate);
  const measured = measureCentre(soundOf({ kick, bass: correlatedPair(0) })) as CentreMeasure;
  assert.ok(isMeasured(measured.kick) && isMeasured(measured.sum));
  assert.equal(valueOf(measured.kick.foldDownLoss_dB), 0);
  near(valueOf(measured.foldDownLoss_dB), 3.01, 0.1, 'headline is the bass');
  // left = 2a, right = a + b with a, b uncorrelated and equal: P_L = 4, P_R = 2, sum L R = 2
  near(valueOf(measured.sum.foldDownLoss_dB), -10 * Math.log10((4 + 2 + 2 * 2) / 12), 0.05, 'sum');
});

test('the rest counts only within 20 dB of kick and bass', () => {
  const bass = monoSignal(pair.a, rate);
  const at = (gain: number): boolean => {
    const wide = correlatedPair(0);
    const rest = { ...wide, left: wide.left.map((v) => v * gain), right: wide.right.map((v) => v * gain) };
    return (measureCentre(soundOf({ bass, rest: rest as StereoSignal })) as CentreMeasure).restCounts;
  };
  assert.equal(at(0.12), true);
  assert.equal(at(0.08), false);
});

test('silence and missing roles are said, not measured', () => {
  const silent = monoSignal(new Float64Array(pair.a.length), rate);
  const measured = measureCentre(soundOf({ kick: monoSignal(pair.a, rate), bass: silent })) as CentreMeasure;
  assert.deepEqual(measured.bass, { kind: 'unmeasurable', reason: 'silent below the mono frequency' });
  assert.deepEqual(measured.rest, { kind: 'unmeasurable', reason: 'no rest among the stems' });
  assert.equal(measureCentre(soundOf({ bass: silent })).kind, 'unmeasurable');
});

// IEC 61260-1:2014: exact mid-band frequencies and edges, rounded to four decimals.
test('third octaves stand where the standard puts them', () => {
  const exact = [
    19.9526, 25.1189, 31.6228, 39.8107, 50.1187, 63.0957, 79.4328, 100, 125.8925, 158.4893, 199.5262, 251.1886,
    316.2278, 398.1072, 501.1872, 630.9573, 794.3282, 1000,
  ];
  exact.forEach((frequency_Hz, i) => near(thirdOctave_Hz(i - 17), frequency_Hz, 6e-5, 'mid frequency'));
  assert.deepEqual(
    thirdOctaves_Hz(19, 1001).map((f) => f.toFixed(3)),
    exact.map((_, i) => thirdOctave_Hz(i - 17).toFixed(3)),
  );
  const [low_Hz, high_Hz] = thirdOctaveEdges_Hz(thirdOctave_Hz(-13));
  near(low_Hz, 44.6684, 6e-5, 'lower edge');
  near(high_Hz, 56.2341, 6e-5, 'upper edge');
});
