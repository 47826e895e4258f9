import assert from 'node:assert/strict';
import { test } from 'node:test';
import { powerResponse } from '../dsp/biquad.js';
import { monoSignal } from '../signal/stereo-signal.js';
import { valueOf } from '../units/reading.js';
import { kWeighting } from './k-weighting.js';
import { integratedLoudness, measureLoudness, SURROUND_WEIGHT } from './loudness.js';

/**
 * Cases of EBU Tech 3341:2023, Table 1, and EBU Tech 3342:2023, synthesised: 1 kHz in phase in both channels. Where a case is
 * long, its level is constant in between; nothing is shortened.
 */
const RATE = 48000;
type Part = readonly [seconds: number, peak_dBFS: number | null];

function tone(parts: readonly Part[], frequency_Hz = 1000, rate = RATE): Float32Array {
  const lengths = parts.map(([seconds]) => Math.round(seconds * rate));
  const samples = new Float32Array(lengths.reduce((sum, length) => sum + length, 0));
  const period = Float64Array.from({ length: rate }, (_, n) => Math.sin((2 * Math.PI * frequency_Hz * n) / rate));
  let at = 0;
  parts.forEach(([, peak_dBFS], i) => {
    const amplitude = peak_dBFS === null ? 0 : 10 ** (peak_dBFS / 20);
    for (let n = 0; n < lengths[i]!; n++, at++) samples[at] = amplitude * period[at % rate]!;
  });
  return samples;
}

const stereo = (samples: Float32Array) => measureLoudness([{ samples, weight: 2 }], RATE);
const close = (value: number | null, expected: number, tolerance: number, what = '') =>
  assert.ok(value !== null && Math.abs(value - expected) <= tolerance, `${what} ${value}, expected ${expected}`);
const repeated = (times: number, parts: readonly Part[]) => Array.from({ length: times }, () => parts).flat();

test('BS.1770-5: 997 Hz at 0 dBFS in one channel reads -3.01 LKFS', () => {
  const samples = tone([[3, 0]], 997);
  close(valueOf(measureLoudness([{ samples, weight: 1 }], RATE).integrated_LUFS), -3.01, 0.005);
});

test('50 Hz in both channels at -23 dBFS reads -27.62 LUFS (two reference meters agree)', () => {
  close(valueOf(integratedLoudness(monoSignal(tone([[20, -23]], 50), RATE))), -27.62, 0.02);
  close(valueOf(integratedLoudness(monoSignal(tone([[5, -23]], 100), RATE))), -24.82, 0.02);
});

test('K-weighting at 48 kHz is the table of BS.1770-5 to the last digit', () => {
  const [shelf, lowCut] = kWeighting(48000);
  const got = [shelf!.b0, shelf!.b1, shelf!.b2, shelf!.a1, shelf!.a2, lowCut!.b0, lowCut!.a1, lowCut!.a2];
  [
    1.53512485958697, -2.69169618940638, 1.19839281085285, -1.69065929318241, 0.73248077421585, 1, -1.99004745483398,
    0.99007225036621,
  ].forEach((value, i) => close(got[i]!, value, 1e-13));
});

test('K-weighting at 44.1, 88.2, 96 and 192 kHz equals the 48 kHz response within 0.01 dB', () => {
  for (const rate of [44100, 88200, 96000, 192000]) {
    for (const f of [20, 30, 50, 100, 200, 500, 1000, 2000, 4000, 8000]) {
      const ratio = powerResponse(kWeighting(rate), f, rate) / powerResponse(kWeighting(48000), f, 48000);
      close(10 * Math.log10(ratio), 0, 0.01, `${rate} ${f}`);
    }
  }
});

test('Tech 3341 cases 1 and 2: momentary, short-term and integrated agree on a steady tone', () => {
  for (const level of [-23, -33]) {
    const loudness = stereo(tone([[20, level]]));
    close(valueOf(loudness.integrated_LUFS), level, 0.1);
    close(valueOf(loudness.maxMomentary_LUFS), level, 0.1);
    close(valueOf(loudness.maxShortTerm_LUFS), level, 0.1);
  }
});

test('Tech 3341 cases 3, 4 and 5: both gates', () => {
  const three: Part[] = [
    [10, -36],
    [60, -23],
    [10, -36],
  ];
  close(valueOf(stereo(tone(three)).integrated_LUFS), -23, 0.1, 'case 3');
  close(valueOf(stereo(tone([[10, -72], ...three, [10, -72]])).integrated_LUFS), -23, 0.1, 'case 4');
  const five = tone([
    [20, -26],
    [20.1, -20],
    [20, -26],
  ]);
  close(valueOf(stereo(five).integrated_LUFS), -23, 0.1, 'case 5');
});

test('Tech 3341 case 6: five channels with their weights', () => {
  const levels: [number, number][] = [
    [-28, 1],
    [-28, 1],
    [-24, 1],
    [-30, SURROUND_WEIGHT],
    [-30, SURROUND_WEIGHT],
  ];
  const channels = levels.map(([level, weight]) => ({ samples: tone([[20, level]]), weight }));
  close(valueOf(measureLoudness(channels, RATE).integrated_LUFS), -23, 0.1);
});

test('Tech 3341 case 9: short-term stays at -23 once 3 s have passed', () => {
  const { shortTerm_LUFS } = stereo(
    tone(
      repeated(5, [
        [1.34, -20],
        [1.66, -30],
      ]),
    ),
  );
  for (const level of shortTerm_LUFS) close(level, -23, 0.1);
});

test('Tech 3341 case 10: 3 s at any offset', () => {
  for (const i of [0, 1, 7, 13, 19]) {
    const loudness = stereo(
      tone([
        [i * 0.15, null],
        [3, -23],
        [1, null],
      ]),
    );
    close(valueOf(loudness.maxShortTerm_LUFS), -23, 0.1, `i ${i}`);
  }
});

test('Tech 3341 case 12: momentary stays at -23', () => {
  const { momentary_LUFS } = stereo(
    tone(
      repeated(25, [
        [0.18, -20],
        [0.22, -30],
      ]),
    ),
  );
  for (const level of momentary_LUFS.subarray(60)) close(level, -23, 0.1);
});

test('Tech 3341 case 13: 400 ms at any offset', () => {
  for (let i = 0; i < 20; i++) {
    const loudness = stereo(
      tone([
        [i * 0.02, null],
        [0.4, -23],
        [1, null],
      ]),
    );
    close(valueOf(loudness.maxMomentary_LUFS), -23, 0.1, `i ${i}`);
  }
});

test('Tech 3342 cases 1 to 4: loudness range', () => {
  for (const [levels, expected] of [
    [[-20, -30], 10],
    [[-20, -15], 5],
    [[-40, -20], 20],
    [[-50, -35, -20, -35, -50], 15],
  ] as const) {
    close(valueOf(stereo(tone(levels.map((level): Part => [20, level]))).range_LU), expected, 0.05);
  }
});

test('silence and too little sound give a reason', () => {
  assert.equal(stereo(new Float32Array(RATE)).integrated_LUFS.kind, 'unmeasurable');
  assert.equal(stereo(tone([[2, -20]])).maxShortTerm_LUFS.kind, 'unmeasurable');
  assert.equal(integratedLoudness(monoSignal(tone([[5, -90]]), RATE)).kind, 'unmeasurable');
});
