import assert from 'node:assert/strict';
import { test } from 'node:test';
import { noteOf } from '../../tests/contracts/measurements-of.js';
import { stagePlace, type PlaceSetUp } from '../../tests/contracts/stage-place.js';
import { clearanceOfHits, hitBandPowers, prepareClearance } from '../measure/clearance.js';
import { monoSignal, type StereoSignal } from '../signal/stereo-signal.js';
import type { Note } from '../song/song.js';
import { SOLVERS } from './solver-registry.js';
import type { StageSolution } from './stage-solver.js';

/** Each solver on sound whose answer is known, the result read by sums and projections of the test's own. */

const RATE_HZ = 48_000;

function tone(frequency_Hz: number, amplitude: number, seconds = 3, turns = 0): Float64Array {
  return Float64Array.from(
    { length: seconds * RATE_HZ },
    (_, n) => amplitude * Math.sin(2 * Math.PI * ((frequency_Hz * n) / RATE_HZ + turns)),
  );
}

function mono(samples: Float64Array): StereoSignal {
  return monoSignal(samples, RATE_HZ);
}

/** Half-second notes at these pitches and peaks, an octave of harmonics falling by 1/h, with 5 ms flanks. */
function line(pitches_Hz: readonly number[], peaks: readonly number[], harmonics = 4) {
  const samples = new Float64Array(Math.round(0.5 * RATE_HZ * pitches_Hz.length) + RATE_HZ / 2);
  const notes: Note[] = pitches_Hz.map((pitch, i) => noteOf(0.1 + 0.5 * i, 0.55 + 0.5 * i, pitch));
  notes.forEach(({ start_s, end_s, frequency_Hz }, i) => {
    const from = Math.round(start_s * RATE_HZ);
    const length = Math.round((end_s - start_s) * RATE_HZ);
    for (let n = 0; n < length; n++) {
      const flank = Math.min(1, n / 240, (length - n) / 240);
      for (let h = 1; h <= harmonics; h++) {
        samples[from + n]! += ((flank * peaks[i]!) / h) * Math.sin((2 * Math.PI * h * frequency_Hz * n) / RATE_HZ);
      }
    }
  });
  return { bass: mono(samples), notes };
}

async function solved(place: string, setUp: PlaceSetUp): Promise<{ solution: StageSolution; output: StereoSignal }> {
  const at = stagePlace(place, setUp);
  const solution = await SOLVERS[at.address.stage]!(at);
  const { on, settings, figures } = solution;
  const { output } = await at.render({ stage: at.address.stage, on, settings, figures });
  return { solution, output: on ? output : at.input };
}

function power(samples: ArrayLike<number>, from_s: number, to_s: number): number {
  let sum = 0;
  const [from, to] = [Math.round(from_s * RATE_HZ), Math.round(to_s * RATE_HZ)];
  for (let n = from; n < to; n++) sum += samples[n]! ** 2;
  return sum / (to - from);
}

function dB(ratio: number): number {
  return 10 * Math.log10(ratio);
}

/** Power of one line by a Hann-windowed projection. */
function linePower(samples: ArrayLike<number>, frequency_Hz: number, from_s: number, to_s: number): number {
  let [re, im] = [0, 0];
  const [from, to] = [Math.round(from_s * RATE_HZ), Math.round(to_s * RATE_HZ)];
  for (let n = from; n < to; n++) {
    const value = samples[n]! * (0.5 - 0.5 * Math.cos((2 * Math.PI * (n - from)) / (to - from)));
    re += value * Math.cos((2 * Math.PI * frequency_Hz * n) / RATE_HZ);
    im += value * Math.sin((2 * Math.PI * frequency_Hz * n) / RATE_HZ);
  }
  return re * re + im * im;
}

const wish = (statistic: string, low: number | null, high: number | null) => ({ statistic, low, high });

test('trim: a bass 1.5 times too loud is brought back by 20 lg 1.5; one that fits is left alone; a kick that takes all is told', async () => {
  const bass = mono(tone(80, 0.2));
  const louder = mono(tone(80, 0.3));
  const { solution, output } = await solved('bass.trim', { bass, input: louder });
  assert.ok(Math.abs(Number(solution.settings['gain_dB']) + 20 * Math.log10(1.5)) < 0.01);
  assert.ok(Math.abs(dB(power(output.left, 1, 2) / power(bass.left, 1, 2))) < 0.01);
  assert.equal((await solved('bass.trim', { bass })).solution.on, false);
  const place = stagePlace('bass.trim', { bass, kick: mono(tone(60, 0.1)) });
  const told = await SOLVERS.trim!({ ...place, kick: mono(tone(60, 0.9)) });
  assert.deepEqual([told.on, told.met], [false, null]);
});

test('centre: the least amount that meets the wish, by the loss of left and right to their sum', async () => {
  const mid = tone(60, 0.3);
  const side = tone(60, 0.24, 3, 0.25);
  const bass: StereoSignal = {
    left: mid.map((m, n) => m + side[n]!),
    right: mid.map((m, n) => m - side[n]!),
    sampleRate_Hz: RATE_HZ,
  };
  const loss = ({ left, right }: StereoSignal): number => {
    const sum = Float64Array.from(left, (x, n) => 0.5 * (x + right[n]!));
    return dB((power(left, 1, 2) + power(right, 1, 2)) / (2 * power(sum, 1, 2)));
  };
  assert.ok(Math.abs(loss(bass) - dB(1 + 0.64)) < 0.01);
  const wished = wish('centre.foldDownLoss_dB', null, 0.5);
  const { solution, output } = await solved('bass.centre', { bass, wish: wished });
  assert.equal(solution.met, true);
  assert.ok(loss(output) <= 0.55 && loss(output) >= 0.35, `${loss(output)}`);
  assert.ok(Math.abs(solution.reached! - loss(output)) < 0.1);
  assert.equal((await solved('bass.centre', { bass: mono(mid), wish: wished })).solution.on, false);
});

test('steady: the loud notes come down by the wish against the soft ones, whatever the make-up', async () => {
  const peaks = [0.4, 0.08, 0.4, 0.08, 0.4, 0.08, 0.4, 0.08];
  const { bass, notes } = line([55, 65, 55, 65, 55, 65, 55, 65], peaks, 1);
  const { solution, output } = await solved('bass.low.steady', {
    bass,
    notes,
    wish: wish('steady.loudNoteReduction_dB', 3, 5),
  });
  assert.equal(solution.met, true);
  const change = (i: number): number => {
    const { start_s } = notes[i]!;
    return dB(power(output.left, start_s + 0.1, start_s + 0.3) / power(bass.left, start_s + 0.1, start_s + 0.3));
  };
  const held = change(3) - change(4);
  assert.ok(held >= 2.5 && held <= 5.5, `${held} dB`);
});

test('even: a pitch 6 dB out comes back to the others, note by note', async () => {
  const pitches = [49, 55, 65.41, 73.42, 82.41];
  const played = Array.from({ length: 25 }, (_, i) => pitches[(2 * i) % 5]!);
  const { bass, notes } = line(
    played,
    played.map((pitch) => (pitch === 65.41 ? 0.4 : 0.2)),
  );
  const found = await solved('bass.even', {
    bass,
    notes,
    wish: wish('evenness.pitchDeviation_dB', null, 1.5),
    settings: { which: 'pitches' },
  });
  const levelOf = (signal: StereoSignal, pitch: number): number => {
    const { start_s } = notes[played.indexOf(pitch, 5)]!;
    return dB(power(signal.left, start_s + 0.05, start_s + 0.3));
  };
  const out = (signal: StereoSignal) => levelOf(signal, 65.41) - 0.5 * (levelOf(signal, 55) + levelOf(signal, 73.42));
  assert.ok(Math.abs(out(bass) - 6) < 0.3);
  assert.ok(found.solution.on && Math.abs(out(found.output)) < 1.5, `${out(found.output)} dB`);
  const flat = line(
    played,
    played.map(() => 0.2),
  );
  const none = await solved('bass.even', { ...flat, settings: { which: 'pitches' } });
  assert.equal(none.solution.on, false);
});

test('saturate: the loud notes carry the wished third harmonic; a bass that has it is left alone, one with more is told', async () => {
  const { bass, notes } = line([55, 65.41, 55, 65.41, 55, 65.41], [0.3, 0.3, 0.3, 0.3, 0.3, 0.3], 1);
  const third = (signal: StereoSignal): number => {
    const { start_s, frequency_Hz } = notes[2]!;
    const at = (h: number) => linePower(signal.left, h * frequency_Hz, start_s + 0.03, start_s + 0.25);
    return dB(at(3) / at(1));
  };
  const { solution, output } = await solved('bass.low.saturate', {
    bass,
    notes,
    wish: wish('saturate.thirdHarmonic_dB', -22, -18),
  });
  assert.equal(solution.met, true);
  assert.ok(third(output) >= -22.5 && third(output) <= -17.5, `${third(output)} dB`);
  const rich = line([55, 65.41, 55, 65.41], [0.3, 0.3, 0.3, 0.3], 4);
  const there = await solved('bass.low.saturate', { ...rich, wish: wish('saturate.thirdHarmonic_dB', -12, -8) });
  assert.deepEqual([there.solution.on, there.solution.met], [false, true]);
  const more = await solved('bass.low.saturate', { ...rich, wish: wish('saturate.thirdHarmonic_dB', -22, -18) });
  assert.deepEqual([more.solution.on, more.solution.met], [false, false]);
});

test('widen: side against middle as wished; within the wish it is left alone, wider than it is told', async () => {
  const mid = tone(1000, 0.1);
  const bass: StereoSignal = { left: mid, right: Float64Array.from(mid), sampleRate_Hz: RATE_HZ };
  const sideToMid = ({ left, right }: StereoSignal): number => {
    const m = Float64Array.from(left, (x, n) => x + right[n]!);
    const s = Float64Array.from(left, (x, n) => x - right[n]!);
    return dB(power(s, 1, 2) / power(m, 1, 2));
  };
  const { solution, output } = await solved('bass.high.widen', { bass, wish: wish('widen.sideToMid_dB', -14, -10) });
  assert.equal(solution.met, true);
  assert.ok(sideToMid(output) >= -15 && sideToMid(output) <= -9, `${sideToMid(output)} dB`);
  const side = tone(1000, 0.02, 3, 0.25);
  const wide: StereoSignal = {
    left: mid.map((m, n) => m + side[n]!),
    right: mid.map((m, n) => m - side[n]!),
    sampleRate_Hz: RATE_HZ,
  };
  for (const [low, high, met] of [
    [-16, -12, true],
    [-30, -20, false],
  ] as const) {
    const off = (await solved('bass.high.widen', { bass: wide, wish: wish('widen.sideToMid_dB', low, high) })).solution;
    assert.deepEqual([off.on, off.met], [false, met]);
  }
});

test('onset: the first 20 ms rise against what follows by the wish', async () => {
  const { bass, notes } = line([110, 110, 110, 110, 110], [0.2, 0.2, 0.2, 0.2, 0.2]);
  const { solution, output } = await solved('bass.high.onset', {
    bass,
    notes,
    wish: wish('onset.overSustain_dB', 3, null),
  });
  assert.equal(solution.met, true);
  const over = ({ left }: StereoSignal): number => {
    const { start_s } = notes[2]!;
    return dB(power(left, start_s - 0.003, start_s + 0.02) / power(left, start_s + 0.06, start_s + 0.16));
  };
  const rise = over(output) - over(bass);
  assert.ok(rise >= 2.5 && rise <= 3.8, `${rise} dB`);
  assert.equal((await solved('bass.high.onset', { bass, notes: [] })).solution.on, false);
});

test('make room: the bass gives way in the band of the kick and at its hits only; without a kick it is told', async () => {
  const hits = Array.from({ length: 5 }, (_, i) => ({ time_s: 0.3 + 0.6 * i, level_dBFS: -20 }));
  const kick = new Float64Array(3.5 * RATE_HZ);
  for (const { time_s } of hits) {
    for (let n = 0; n < 0.2 * RATE_HZ; n++) {
      kick[Math.round(time_s * RATE_HZ) + n]! +=
        0.25 * Math.exp(-n / (0.06 * RATE_HZ)) * Math.sin((2 * Math.PI * 58 * n) / RATE_HZ);
    }
  }
  const bass = mono(tone(58, 0.16, 3.5, 0.25));
  const setUp: PlaceSetUp = { bass, kick: mono(kick), hits, wish: wish('clearance.share2dB', 0.9, null) };
  const { solution, output } = await solved('bass.make-room', setUp);
  assert.ok(solution.now! < 0.9 && solution.on, `${solution.now}`);
  assert.equal(solution.met, true);
  const change = (from_s: number, to_s: number) =>
    dB(power(output.left, from_s, to_s) / power(bass.left, from_s, to_s));
  assert.ok(change(0.91, 0.99) < -1, `${change(0.91, 0.99)} dB at a hit`);
  assert.ok(Math.abs(change(0.05, 0.15)) < 0.2, `${change(0.05, 0.15)} dB before the first`);
  // no more than needed: each hit stands 0.5 dB over the wish, as far as the depth is predicted without rendering (0.1 dB)
  const prepared = prepareClearance(setUp.kick!, hits);
  for (const after of clearanceOfHits(prepared, hitBandPowers(prepared, output))) {
    assert.ok(Math.abs(after! - 2.5) < 0.1, `${after} dB clear, 2.5 wanted`);
  }
  const clear = await solved('bass.make-room', { ...setUp, bass: mono(tone(58, 0.01, 3.5)) });
  assert.deepEqual([clear.solution.on, clear.solution.met], [false, true]);
  const none = (await solved('bass.make-room', { bass })).solution;
  assert.deepEqual([none.on, none.met], [false, null]);
});

test('harmonics: a bass of fundamentals gets even harmonics until it carries; one that carries is left alone', async () => {
  const { bass, notes } = line([55, 61.74, 55, 65.41, 55, 61.74], [0.2, 0.2, 0.2, 0.2, 0.2, 0.2], 1);
  let state = 1;
  const rest = mono(
    Float64Array.from(bass.left, () => 0.02 * ((state = (state * 48_271) % 2_147_483_647) / 1_073_741_823 - 1)),
  );
  const far = stagePlace('bass.low.harmonics', { bass, notes, rest });
  const now = await SOLVERS.harmonics!({ ...far, wish: wish('carry.laptop_LU', 40, null) });
  assert.equal(now.met, false);
  assert.ok(now.remark!.length > 10);
  const wished = now.now! + 3;
  const { solution, output } = await solved('bass.low.harmonics', {
    bass,
    notes,
    rest,
    wish: wish('carry.laptop_LU', wished, null),
  });
  assert.ok(solution.on && solution.met, JSON.stringify([solution.now, solution.reached]));
  const { start_s, frequency_Hz } = notes[2]!;
  const second = (signal: StereoSignal) => linePower(signal.left, 2 * frequency_Hz, start_s + 0.05, start_s + 0.3);
  assert.ok(dB(second(output) / second(bass)) > 20);
  const carried = await solved('bass.low.harmonics', {
    bass,
    notes,
    rest,
    wish: wish('carry.laptop_LU', now.now! - 1, null),
  });
  assert.deepEqual([carried.solution.on, carried.solution.met], [false, true]);
});

test('a stage turned down treats less: half the strength, half the amount', async () => {
  const { bass, notes } = line([110, 110, 110], [0.2, 0.2, 0.2]);
  const asked = { bass, notes, wish: wish('onset.overSustain_dB', 4, null) };
  const half = (await solved('bass.high.onset', { ...asked, strength: 0.5 })).solution;
  assert.equal(half.settings['gain_dB'], 2);
  assert.equal(half.met, false);
});
