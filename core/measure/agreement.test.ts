import assert from 'node:assert/strict';
import { test } from 'node:test';
import { monoSignal } from '../signal/stereo-signal.js';
import { SeededRandom } from '../units/seeded-random.js';
import { valueOf } from '../units/reading.js';
import { measureAgreement, type AgreementMeasure } from './agreement.js';
import type { Knowledge, SongSound } from './song-sound.js';

const rate = 48_000;

function measured(kick: Float64Array, bass: Float64Array, times: readonly number[]): AgreementMeasure {
  const result = measureAgreement(soundOf(kick, bass), knowledgeOf(times));
  assert.equal(result.kind, 'measured');
  return result as AgreementMeasure;
}

function soundOf(kick: Float64Array, bass: Float64Array): SongSound {
  return {
    sampleRate_Hz: rate,
    frameCount: kick.length,
    kick: monoSignal(kick, rate),
    bass: monoSignal(bass, rate),
    rest: null,
    tracks: { kick: [], bass: [], rest: [] },
  };
}

function knowledgeOf(times: readonly number[]): Knowledge {
  const none = { kind: 'unmeasurable', reason: 'not needed here' } as const;
  const hits = times.map((time_s) => ({ time_s, level_dBFS: -12 }));
  return { hits, notes: [], tempo_bpm: none, fundamental_Hz: none, decay_ms: none };
}

function tone(frequency_Hz: number, phase_deg: number, level_dB = 0, seconds = 6): Float64Array {
  const step = (2 * Math.PI * frequency_Hz) / rate;
  const phase = (phase_deg * Math.PI) / 180;
  const gain = 10 ** (level_dB / 20);
  const samples = new Float64Array(seconds * rate);
  for (let n = 0; n < samples.length; n++) samples[n] = gain * Math.sin(step * n + phase);
  return samples;
}

function near(value: number | null, expected: number, tolerance: number, what: string): void {
  assert.ok(value !== null && Math.abs(value - expected) <= tolerance, `${what}: ${value}, expected ${expected}`);
}

// Closed form: 10 lg(1 + 2 a cos(phase) / (1 + a^2)); 60 Hz, so that 150 ms hold nine whole periods.
const steadyTimes = Array.from({ length: 10 }, (_, i) => 1 + 0.4 * i);
test('two steady tones of one pitch follow the closed form', () => {
  const kick = tone(60, 0);
  for (const [phase_deg, equal_dB, sixDown_dB] of [
    [0, 3.01, 2.56],
    [30, 2.71, 2.29],
    [60, 1.76, 1.46],
    [90, 0, 0],
    [120, -3.01, -2.22],
    [150, -8.73, -5.14],
    [170, -18.18, -6.76],
  ] as const) {
    const equal = measured(kick, tone(60, phase_deg), steadyTimes);
    near(valueOf(equal.median_dB), equal_dB, 0.1, `equal, ${phase_deg} degrees`);
    near(valueOf(equal.overall_dB), equal_dB, 0.1, `equal, ${phase_deg} degrees, overall`);
    const sixDown = measured(kick, tone(60, phase_deg, -20 * Math.log10(2)), steadyTimes);
    near(valueOf(sixDown.median_dB), sixDown_dB, 0.1, `6 dB down, ${phase_deg} degrees`);
  }
  near(valueOf(measured(kick, tone(60, 180, -20 * Math.log10(2)), steadyTimes).median_dB), -7.01, 0.1, 'opposed');
});

test('two steady tones of different pitch stay within the range of their beat', () => {
  const many = Array.from({ length: 100 }, (_, i) => 0.5 + 0.0513 * i);
  for (const [difference_Hz, low_dB, high_dB] of [
    [2, -8.6, 2.7],
    [4, -3.1, 1.8],
    [6, -0.6, 0.5],
    [8, -0.8, 0.7],
    [10, -1.0, 0.8],
    [15, -0.5, 0.5],
    [20, -0.1, 0.1],
    [30, -0.3, 0.3],
  ] as const) {
    const values = measured(tone(55, 0), tone(55 + difference_Hz, 0), many).hits.map((hit) => hit.agreement_dB!);
    // The published range holds two phases, ours the beat alone: inside it, and at most 0.4 dB short of the large ends
    assert.ok(Math.min(...values) >= low_dB - 0.1 && Math.max(...values) <= high_dB + 0.1, `${difference_Hz} Hz`);
    if (difference_Hz <= 4) {
      near(Math.min(...values), low_dB, 0.4, `least, ${difference_Hz} Hz`);
      near(Math.max(...values), high_dB, 0.2, `most, ${difference_Hz} Hz`);
    }
  }
});

const times = Array.from({ length: 16 }, (_, i) => 0.25 + 0.5 * i);

function recipeKick(): Float64Array {
  const kick = new Float64Array(9 * rate);
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

/** Three harmonics of 52 Hz, restarted `delay_ms` after each hit, 0.4 s long and cut dead. */
function lockedBass(delay_ms: number, jitter_ms: () => number = () => 0): Float64Array {
  const bass = new Float64Array(9 * rate);
  for (const time_s of times) {
    const first = Math.round((time_s + (delay_ms + jitter_ms()) / 1000) * rate);
    for (let n = 0; n < 0.4 * rate; n++) {
      const t = n / rate;
      let sum = 0;
      for (let h = 1; h <= 3; h++) sum += Math.sin(2 * Math.PI * 52 * h * t) / h;
      bass[first + n]! += 0.5 * sum * Math.min(1, t / 0.003);
    }
  }
  return bass;
}

const kick = recipeKick();

// Values from an independent prototype (numpy, scipy), measured for this project.
for (const [delay_ms, now_dB, turned_dB] of [
  [0, 0.82, -1.02],
  [3, -2.15, 1.43],
  [6, -3.74, 1.98],
  [9, -1.3, 1.0],
  [12, 1.04, -1.37],
  [15, 2.03, -3.93],
  [18, 1.37, -2.02],
] as const) {
  test(`a bass locked to the hit and ${delay_ms} ms behind it`, () => {
    const bass = lockedBass(delay_ms);
    const now = measured(kick, bass, times);
    near(valueOf(now.median_dB), now_dB, 0.1, 'now');
    const turned = measured(
      kick,
      bass.map((value) => -value),
      times,
    );
    near(valueOf(turned.median_dB), turned_dB, 0.1, 'turned');
    for (const result of [now, turned]) {
      const best_dB = valueOf(result.median_dB)! + result.sharedMend!.medianGain_dB;
      assert.ok(best_dB >= 2.01 - 0.3 - 0.1 && best_dB <= 2.05 + 0.1, `best common value ${best_dB}`);
    }
  });
}

test('the rule names one mend of a cancelling locked pair, and it does what it says', () => {
  const shifts = [3, 6, 12].map((delay_ms) => {
    const now = measured(
      kick,
      lockedBass(delay_ms).map((value) => (delay_ms === 12 ? -value : value)),
      times,
    );
    const mend = now.sharedMend!;
    assert.ok(mend.rulePasses);
    assert.equal(mend.gains_dB.length, 16);
    const polarity = delay_ms === 12 ? -mend.polarity : mend.polarity;
    const mended = lockedBass(delay_ms + mend.delay_ms).map((value) => polarity * value);
    const expected_dB = valueOf(now.median_dB)! + mend.medianGain_dB;
    near(valueOf(measured(kick, mended, times).median_dB)!, expected_dB, 0.1, `after the mend of ${delay_ms} ms`);
    return mend.delay_ms;
  });
  assert.ok(
    shifts.some((shift_ms) => shift_ms !== 0),
    `${shifts}: at least one mend shifts, so that its sign is proved`,
  );
});

test('the rule names nothing where the phase differs per note, nor with fewer than eight hits', () => {
  const random = new SeededRandom(7);
  const scattered = measured(
    kick,
    lockedBass(20, () => random.between(-19, 19)),
    times,
  );
  assert.equal(scattered.sharedMend!.rulePasses, false);
  assert.equal(measured(kick, lockedBass(6), times.slice(0, 7)).sharedMend!.rulePasses, false);
  assert.equal(measured(kick, lockedBass(6), times.slice(0, 8)).sharedMend!.rulePasses, true);
});

test('hits whose levels lie more than 18 dB apart are left out', () => {
  const quiet = measureAgreement(soundOf(tone(60, 0), tone(60, 90, -19)), knowledgeOf(steadyTimes));
  assert.equal(quiet.kind, 'unmeasurable');
  const audible = measureAgreement(soundOf(tone(60, 0), tone(60, 90, -17)), knowledgeOf(steadyTimes));
  assert.equal(audible.kind, 'measured');
});

test('what cannot be measured says why', () => {
  const sound = soundOf(tone(60, 0), new Float64Array(6 * rate));
  const reason = (s: SongSound, known = knowledgeOf(steadyTimes)): string => {
    const result = measureAgreement(s, known);
    return result.kind === 'unmeasurable' ? result.reason : 'measured';
  };
  assert.equal(reason({ ...sound, kick: null }), 'no kick among the stems');
  assert.equal(reason({ ...sound, bass: null }), 'no bass among the stems');
  assert.equal(reason(sound, knowledgeOf([])), 'no kick hits found');
  assert.equal(reason(sound), 'kick and bass are never within 18 dB of each other in the lows');
});
